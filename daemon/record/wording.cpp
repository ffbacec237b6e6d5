#include "record/wording.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "domain/names.hpp"
#include "record/text.hpp"

namespace dryclock::record {
namespace {

template <class... F>
struct Overloaded : F... {
  using F::operator()...;
};
template <class... F>
Overloaded(F...) -> Overloaded<F...>;

const PieceRecord* find_piece(const Record& record, PieceId piece) {
  const auto found =
      std::ranges::find_if(record.pieces, [&](const PieceRecord& one) { return one.summary.id == piece; });
  return found == record.pieces.end() ? nullptr : &*found;
}

std::string lay_words(const Record& record, const ToldEvent& event, const Lay& lay) {
  const auto* piece = find_piece(record, event.event.seq);
  auto text = fmt::format("{}: {}, {}", piece == nullptr ? lay.panel : piece->panel_label,
                          lay.replaces ? fmt::format("laid again (was piece {})", *lay.replaces) : "laid",
                          piece == nullptr ? lay.film : piece->film_label);
  if (!lay.lot.empty()) {
    text += ", lot " + lay.lot;
  }
  return text + fmt::format(", {}", name_of(lay.wetness));
}

}  // namespace

std::string when(const Record& record, Time t) {
  return record.zone.weekday_clock(t).substr(0, 4) + record.zone.date_clock(t);
}

std::string when_short(const Record& record, Time t) {
  return record.zone.date_clock(t).substr(5);
}

std::string day(const Record& record, Time t) {
  return record.zone.date_clock(t).substr(0, 10);
}

std::string_view degree(const Record& record) {
  return record.fahrenheit ? "\xC2\xB0"
                             "F"
                           : "\xC2\xB0"
                             "C";
}

double in_scale(const Record& record, double celsius) {
  return record.fahrenheit ? 32.0 + 1.8 * celsius : celsius;
}

std::vector<std::pair<std::string, std::string>> personal_facts(const Record& record) {
  std::vector<std::pair<std::string, std::string>> facts;
  for (const auto& one : record.personal) {
    facts.emplace_back(one.field == "plate" ? "Number plate" : "Customer", one.text);
  }
  return facts;
}

std::string piece_name(const Record& record, PieceId piece) {
  const auto* found = find_piece(record, piece);
  return found == nullptr ? fmt::format("piece {}", piece) : found->panel_label;
}

bool is_on(const PieceRecord& piece) {
  return !piece.summary.removed && !piece.summary.replaced_by;
}

std::string told(const Record& record, const ToldEvent& event) {
  const auto piece = [&](PieceId id) { return piece_name(record, id); };
  return std::visit(
      Overloaded{
          [&](const VehicleIn& e) {
            auto text = fmt::format("{} came in, bay {}", e.reference, e.bay);
            return e.panel_c ? text + fmt::format(", panels at {} {}", fixed(in_scale(record, *e.panel_c), 1),
                                                  degree(record))
                             : text;
          },
          [&](const VehicleMoved& e) { return "moved to " + e.bay; },
          [&](const HandOverAgreed& e) {
            return e.hand_over ? "hand-over agreed for " + when(record, *e.hand_over)
                               : std::string{"no hand-over agreed"};
          },
          [&](const Lay& e) { return lay_words(record, event, e); },
          [&](const EdgeOpened& e) { return piece(e.piece) + ": edge opened"; },
          [&](const EdgeWrapped& e) { return piece(e.piece) + ": edges wrapped"; },
          [&](const Trimmed& e) { return piece(e.piece) + ": trimmed"; },
          [&](const PieceRemoved& e) { return piece(e.piece) + ": pulled off"; },
          [&](const Inspected& e) {
            return fmt::format("{}: {} looked at, {}", piece(e.piece), name_of(e.zone), name_of(e.finding));
          },
          [&](const HeatApplied& e) {
            return fmt::format("{}: {}, {} {} on the film for {} min", piece(e.piece), name_of(e.source),
                               fixed(in_scale(record, e.surface_c), 1), degree(record), number(e.minutes));
          },
          [&](const LampSwitched& e) {
            return e.on ? fmt::format("lamp on, {} W/m\xC2\xB2", number(e.heat_w_m2)) : "lamp off";
          },
          [&](const Refitted& e) { return piece(e.piece) + ": part refitted"; },
          [&](const Released& e) {
            return e.advised.empty() ? std::string{"released"} : "released; told: " + e.advised;
          },
          [&](const Rechecked& e) {
            return fmt::format("{}: rechecked, {}", piece(e.piece), name_of(e.finding));
          },
          [&](const Superseded& e) { return fmt::format("row {} was entered wrongly", e.event); },
          [&](const Forgotten&) {
            return std::string{"plate and customer erased; their commitments stay, and hide them"};
          },
          [&](const Planned& e) {
            return e.pieces.empty() ? std::string{"nothing planned"}
                                    : fmt::format("{} pieces planned", e.pieces.size());
          },
          [&](const AlertAcknowledged& e) { return "alert seen: " + e.alert; },
          [&](const auto&) { return std::string{event_names[event.event.detail.index()]}; },
      },
      event.event.detail);
}

const std::vector<std::string_view>& cautions() {
  static const std::vector<std::string_view> all{
      "An estimate is advice. Look and feel before cutting; a blade on a vehicle cannot be undone.",
      "Heat guns: hold to the film maker's temperature, measure the surface, keep moving, keep away from "
      "solvent, wet electrics, glass and airbags; burns.",
      "Isopropyl alcohol and other solvents: flammable vapour heavier than air; ventilate, no ignition "
      "source "
      "or heat gun while it is wet, gloves and eye protection. The product's safety data sheet and the "
      "workplace rules decide.",
      "High-voltage vehicles, driver-assistance sensors and airbags near the work: the manufacturer's "
      "procedure and qualified people."};
  return all;
}

}  // namespace dryclock::record
