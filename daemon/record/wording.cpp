#include "record/wording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json/parse.hpp>
#include <regex>

#include "base/temperature_words.hpp"
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

std::string lay_words(const Record& record, const EventEntry& event, const Lay& lay) {
  const auto* piece = find_piece(record, event.event.seq);
  auto text = fmt::format("{}: {}, {}", piece == nullptr ? lay.panel : piece->panel_label,
                          lay.replaces ? fmt::format("laid again (was piece {})", *lay.replaces) : "laid",
                          piece == nullptr ? lay.film : typeset(record, piece->film_label));
  if (!lay.lot.empty()) {
    text += ", lot " + lay.lot;
  }
  return text + fmt::format(", {}", in_words(lay.wetness));
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

std::string typeset(const Record& record, std::string_view sentence) {
  // Temperatures first: what follows leaves no number that could be taken for one.
  std::string text = record.fahrenheit ? in_fahrenheit(sentence) : std::string{sentence};
  static const std::regex degrees("([0-9]) ([CF])(?![A-Za-z0-9])"), squared("\\bm2\\b"), cubed("\\bm3\\b"),
      micrometres("\\bum\\b");
  text = std::regex_replace(text, degrees, "$1 \xC2\xB0$2");
  text = std::regex_replace(text, squared, "m\xC2\xB2");
  text = std::regex_replace(text, cubed, "m\xC2\xB3");
  return std::regex_replace(text, micrometres, "\xC2\xB5m");
}

std::string_view in_words(Quantity quantity) {
  return traits(quantity).said;
}

std::string_view in_words(Unit unit) {
  switch (unit) {
    case Unit::celsius:
      return "\xC2\xB0"
             "C";
    case Unit::fahrenheit:
      return "\xC2\xB0"
             "F";
    default:
      return name_of(unit);
  }
}

std::string_view in_words(models::Wetness wetness) {
  static constexpr std::array<std::string_view, words<models::Wetness>.size()> all{"pulled dry", "as usual",
                                                                                   "left wet"};
  return all[static_cast<std::size_t>(wetness)];
}

std::string_view in_words(Verdict verdict) {
  static constexpr std::array<std::string_view, verdicts> all{"used",
                                                              "sent twice",
                                                              "perhaps sent twice",
                                                              "of unknown age (kept by the broker)",
                                                              "too late",
                                                              "with a clock ahead of ours",
                                                              "implausible",
                                                              "jumped too far",
                                                              "stuck",
                                                              "being checked over a salt"};
  return all[static_cast<std::size_t>(verdict)];
}

std::string_view in_words(RejectReason reason) {
  static constexpr std::array<std::string_view, reject_reasons> all{
      "on no known topic",       "too large", "no JSON", "without the field", "no number", "no finite number",
      "without a readable time", "no event"};
  return all[static_cast<std::size_t>(reason)];
}

std::string_view step_words(std::string_view step) {
  return step == "edge-wrapped" ? std::string_view{"edges wrapped"} : step;
}

std::string start_words(const DaemonStart& start) {
  boost::system::error_code wrong;
  const auto json = boost::json::parse(start.told, wrong);
  const auto* told = wrong ? nullptr : json.if_object();
  if (told == nullptr) {
    return start.told.empty() ? std::string{"nothing was told about it"} : start.told;
  }
  const auto text = [&](const char* key) {
    const auto* value = told->if_contains(key);
    return value != nullptr && value->is_string() ? std::string{value->as_string()} : std::string{"not told"};
  };
  return fmt::format("version {}, {}", text("version"),
                     text("clock") == "synchronized" ? "the machine's clock was in step with a time server"
                     : text("clock") == "kept"       ? "the machine's clock was as its clock chip had kept it"
                     : text("clock") == "unsynchronized"
                         ? "the machine's clock was not in step with a time server"
                         : "nothing tells whether the machine's clock was in step with a time server");
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

std::string told(const Record& record, const EventEntry& event) {
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
            const auto source = e.source == HeatSource::heat_gun ? "heat gun" : name_of(e.source);
            return fmt::format("{}: {}, {} {} on the film for {} min", piece(e.piece), source,
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
            return fmt::format("{}: rechecked, {}{}", piece(e.piece), name_of(e.finding),
                               e.zone ? fmt::format(" at its {}", name_of(*e.zone)) : "");
          },
          [&](const Superseded& e) { return fmt::format("taken back: row {} was entered wrongly", e.event); },
          [&](const Forgotten&) {
            return std::string{"plate and customer erased; their commitments stay, and hide them"};
          },
          [&](const Planned& e) {
            return e.pieces.empty() ? std::string{"nothing planned"}
                                    : fmt::format("{} {} planned", e.pieces.size(),
                                                  e.pieces.size() == 1 ? "piece" : "pieces");
          },
          [&](const AlertAcknowledged& e) { return "alert seen: " + e.alert; },
          [&](const Noted&) { return std::string{"noted"}; },
          // Events of the shop stand in no vehicle's record.
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
      "source or heat gun while it is wet, gloves and eye protection. The product's safety data sheet and "
      "the workplace rules decide.",
      "High-voltage vehicles, driver-assistance sensors and airbags near the work: the manufacturer's "
      "procedure and qualified people."};
  return all;
}

}  // namespace dryclock::record
