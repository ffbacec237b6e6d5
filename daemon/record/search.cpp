#include "record/search.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "base/small_letters.hpp"
#include "domain/names.hpp"
#include "domain/personal.hpp"
#include "history/events.hpp"
#include "wording/words.hpp"

namespace dryclock::record {
namespace {

constexpr std::size_t most_found = 100;

// Walks the events that stand, in order of time, and keeps what is told of each vehicle.
class Vehicles {
 public:
  void apply(const Event& event) {
    std::visit([&](const auto& detail) { add(event, detail); }, event.detail);
  }
  [[nodiscard]] std::vector<VehicleFound> all() && {
    std::vector<VehicleFound> out;
    for (auto& [id, vehicle] : vehicles_) {
      out.push_back(std::move(vehicle));
    }
    std::ranges::stable_sort(out, std::ranges::greater{}, &VehicleFound::arrived);
    return out;
  }

 private:
  void add(const Event& event, const VehicleIn& in) {
    vehicles_[event.seq] = {event.seq, in.reference, event.at, {}, {}};
  }
  void add(const Event& event, const Lay& lay) {
    const auto found = vehicles_.find(lay.vehicle);
    if (found == vehicles_.end()) {
      return;
    }
    if (lay.replaces) {
      end(*lay.replaces, event.at);
    }
    for (const Beside& beside : lay.beside) {
      if (auto* piece = find(beside.piece)) {
        stand_beside(*piece, beside, lay.parts);
      }
    }
    PieceFound piece;
    piece.id = event.seq;
    piece.panel = lay.panel;
    piece.side = lay.side;
    piece.part = lay.part;
    piece.parts = lay.parts;
    piece.place = lay.place;
    piece.film = lay.film;
    piece.lot = lay.lot;
    piece.laid = event.at;
    found->second.pieces.push_back(std::move(piece));
    owner_[event.seq] = lay.vehicle;
  }
  void add(const Event& event, const PieceRemoved& removed) { end(removed.piece, event.at); }
  void add(const Event& /*event*/, const Inspected& seen) {
    note_lifting(seen.piece, seen.finding == models::Finding::lifting);
  }
  void add(const Event& /*event*/, const Rechecked& rechecked) {
    note_lifting(rechecked.piece, rechecked.finding != RecheckFinding::sound);
  }
  void add(const Event& event, const Released& released) {
    if (const auto found = vehicles_.find(released.vehicle); found != vehicles_.end()) {
      found->second.released = event.at;
    }
  }
  template <class Other>
  void add(const Event& /*event*/, const Other& /*detail*/) {}

  PieceFound* find(PieceId id) {
    const auto owner = owner_.find(id);
    if (owner == owner_.end()) {
      return nullptr;
    }
    return &*std::ranges::find(vehicles_[owner->second].pieces, id, &PieceFound::id);
  }
  void end(PieceId id, Time at) {
    if (auto* piece = find(id)) {
      piece->ended = at;
    }
  }
  void note_lifting(PieceId id, bool lifts) {
    if (auto* piece = find(id); piece != nullptr && lifts) {
      piece->lifted = true;
    }
  }

  std::map<VehicleId, VehicleFound> vehicles_;
  std::map<PieceId, VehicleId> owner_;
};

class Judge {
 public:
  Judge(const store::Reader& reader, const Setup& setup, const LocalZone& zone, const SearchQuery& query,
        Time now)
      : reader_(reader),
        query_(query),
        words_(words_of(small_letters(query.words))),
        now_(now),
        speakers_{speaker(setup, zone, Language::english_uk), speaker(setup, zone, Language::english_us),
                  speaker(setup, zone, Language::german)} {}

  // Marks the pieces that are meant. Problem: the database.
  [[nodiscard]] Result<bool> is_found(VehicleFound& vehicle) {
    if ((query_.from && vehicle.released.value_or(now_) < *query_.from) ||
        (query_.to && vehicle.arrived > *query_.to)) {
      return false;
    }
    const auto kept = reader_.personal(vehicle.id);
    if (!kept) {
      return kept.error();
    }
    const auto plate = plate_in(*kept);
    std::vector<std::string> of_piece;
    for (const auto& word : words_) {
      const bool of_vehicle = small_letters(vehicle.reference).find(word) != std::string::npos ||
                              plate.find(word) != std::string::npos || is_day(word, vehicle);
      if (!of_vehicle) {
        of_piece.push_back(word);
      }
    }
    bool any = false;
    for (auto& piece : vehicle.pieces) {
      piece.hit = (!of_piece.empty() || query_.lifted) && (piece.lifted || !query_.lifted) &&
                  std::ranges::all_of(of_piece, [&](const std::string& word) {
                    return told_of(piece).find(word) != std::string::npos;
                  });
      any = any || piece.hit;
    }
    return any || (of_piece.empty() && !query_.lifted);
  }

 private:
  static wording::Words speaker(const Setup& setup, const LocalZone& zone, Language language) {
    return {Manner{language, setup.site.manner.temperature}, wording::entries_of(setup.catalogue), zone};
  }

  static std::string plate_in(const std::vector<PersonalText>& kept) {
    const auto plate = std::ranges::find(kept, personal_fields[0], &PersonalText::field);
    return plate == kept.end() ? std::string{} : small_letters(plate->text);
  }

  // "2026", "2026-03" or "2026-03-02": a day on which it was in the shop.
  [[nodiscard]] bool is_day(const std::string& word, const VehicleFound& vehicle) const {
    constexpr std::array<std::size_t, 3> lengths{4, 7, 10};
    if (std::ranges::find(lengths, word.size()) == lengths.end() ||
        word.find_first_not_of("0123456789-") != std::string::npos) {
      return false;
    }
    const auto day = [&](Time t) { return speakers_[0].zone().date_clock(t).substr(0, word.size()); };
    return day(vehicle.arrived) <= word && word <= day(vehicle.released.value_or(now_));
  }

  // What it is called in each language, its film and its lot.
  const std::string& told_of(const PieceFound& piece) {
    auto key = piece.panel + '\n' + (piece.side ? std::string{name_of(*piece.side)} : "") + '\n' +
               piece.place + '\n' + std::to_string(piece.part) + '/' + std::to_string(piece.parts) + '\n' +
               piece.film + '\n' + piece.lot;
    const auto [at, is_new] = told_.try_emplace(std::move(key));
    if (is_new) {
      std::string all = piece.panel + ' ' + piece.film + ' ' + piece.lot;
      for (const auto& words : speakers_) {
        all += ' ' + words.piece(name_of_piece(piece)) + ' ' + words.film(piece.film);
      }
      at->second = small_letters(all);
    }
    return at->second;
  }

  const store::Reader& reader_;
  const SearchQuery& query_;
  std::vector<std::string> words_;
  Time now_;
  std::array<wording::Words, 3> speakers_;
  std::map<std::string, std::string> told_;
};

}  // namespace

Result<SearchAnswer> search(const store::Reader& reader, const history::Dates& dates, const Setup& setup,
                            const LocalZone& zone, const SearchQuery& query, Time now) {
  auto events = history::events(reader, dates);
  if (!events) {
    return events.error();
  }
  std::erase_if(*events, [](const history::RecordedEvent& one) { return one.superseded; });
  std::ranges::stable_sort(*events, {}, [](const history::RecordedEvent& one) { return one.event.at; });
  Vehicles vehicles;
  for (const auto& one : *events) {
    vehicles.apply(one.event);
  }
  SearchAnswer answer{query.words, {}, false};
  Judge judge{reader, setup, zone, query, now};
  for (auto& vehicle : std::move(vehicles).all()) {
    const auto found = judge.is_found(vehicle);
    if (!found) {
      return found.error();
    }
    if (*found && answer.vehicles.size() == most_found) {
      answer.more = true;
      break;
    }
    if (*found) {
      answer.vehicles.push_back(std::move(vehicle));
    }
  }
  return answer;
}

}  // namespace dryclock::record
