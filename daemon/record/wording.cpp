#include "record/wording.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "domain/names.hpp"
#include "models/pace.hpp"
#include "record/shown_rows.hpp"
#include "record/text.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

const PieceRecord* find_piece(const Record& record, PieceId piece) {
  const auto found =
      std::ranges::find_if(record.pieces, [&](const PieceRecord& one) { return one.summary.id == piece; });
  return found == record.pieces.end() ? nullptr : &*found;
}

std::string unbroken(std::string text) {
  for (auto at = text.find(' '); at != std::string::npos; at = text.find(' ', at)) {
    text.replace(at, 1, no_break_space);
  }
  return text;
}

template <class E>
Value word_value(std::string_view name, std::string_view group, E of) {
  return say::word(name, Words::word_key(group, of));
}

// How an event is told.
class EventWords {
 public:
  EventWords(const Record& record, const EventEntry& entry)
      : record_(record), words_(*record.words), entry_(entry) {}

  [[nodiscard]] std::string operator()(const VehicleIn& e) const {
    std::vector<Value> values{say::text("vehicle", e.reference), say::text("bay", e.bay)};
    if (!e.panel_c) {
      return tell("came-in", values);
    }
    values.push_back(say::number("temperature", Measure::celsius, *e.panel_c));
    return tell("came-in-panels", values);
  }
  [[nodiscard]] std::string operator()(const VehicleMoved& e) const {
    return tell("moved", {say::text("bay", e.bay)});
  }
  [[nodiscard]] std::string operator()(const HandOverAgreed& e) const {
    return e.hand_over ? tell("hand-over", {say::time("at", *e.hand_over)}) : tell("no-hand-over");
  }
  [[nodiscard]] std::string operator()(const Lay& e) const {
    const auto* piece = find_piece(record_, entry_.event.seq);
    std::vector<Value> values{
        say::text("piece", piece == nullptr ? words_.piece(name_of_piece(e)) : piece->panel_label),
        say::text("film", piece == nullptr ? e.film : piece->film_label),
        word_value("wetness", "wetness", e.wetness)};
    std::string key = "laid";
    if (e.replaces) {
      key += "-again";
      values.push_back(say::text("old", std::to_string(*e.replaces)));
    }
    if (!e.lot.empty()) {
      key += "-lot";
      values.push_back(say::text("lot", e.lot));
    }
    return tell(key, values);
  }
  [[nodiscard]] std::string operator()(const EdgeOpened& e) const { return of_piece("edge-opened", e.piece); }
  [[nodiscard]] std::string operator()(const EdgeWrapped& e) const {
    return of_piece("edge-wrapped", e.piece);
  }
  [[nodiscard]] std::string operator()(const Trimmed& e) const { return of_piece("trimmed", e.piece); }
  [[nodiscard]] std::string operator()(const PieceRemoved& e) const { return of_piece("removed", e.piece); }
  [[nodiscard]] std::string operator()(const Refitted& e) const { return of_piece("refitted", e.piece); }
  [[nodiscard]] std::string operator()(const Inspected& e) const {
    return of_piece("inspected", e.piece,
                    {word_value("zone", "zone", e.zone), word_value("finding", "finding", e.finding)});
  }
  [[nodiscard]] std::string operator()(const HeatApplied& e) const {
    const auto source = words_.word("heat", e.source);
    std::vector<Value> values{
        say::text("source", e.source == HeatSource::sun
                                ? source
                                : tell("tool", {say::text("source", source),
                                                say::text("power", exact(words_, e.tool_w))})),
        say::number("temperature", Measure::celsius, e.surface_c),
        say::text("minutes", exact(words_, e.minutes))};
    std::string key = "heat";
    if (e.zone) {
      key += "-zone";
      values.push_back(word_value("zone", "zone", *e.zone));
    }
    if (e.area_m2 > 0.0) {
      key += "-area";
      values.push_back(say::text("area", exact(words_, e.area_m2)));
    }
    return of_piece(key, e.piece, values);
  }
  [[nodiscard]] std::string operator()(const NotNeeded& e) const {
    const auto which = name_of(e.which);  // "wrap-ready": of which a message tells the first word apart
    return of_piece(e.needed ? "needed-after-all" : "not-needed", e.piece,
                    {say::text("step", std::string{which.substr(0, which.find('-'))})});
  }
  [[nodiscard]] std::string operator()(const LampSwitched& e) const {
    if (!e.on) {
      return e.piece ? of_piece("lamp-off-piece", *e.piece) : tell("lamp-off");
    }
    const auto heat = say::text("power", exact(words_, e.heat_w_m2));
    std::vector<Value> values{say::text(
        "power", e.tool_w > 0.0 ? tell("lamp-drawing", {heat, say::text("watts", exact(words_, e.tool_w))})
                                : tell("lamp-heat", {heat}))};
    if (!e.piece) {
      return tell("lamp-on", values);
    }
    std::string key = "lamp-on-piece";
    if (e.zone) {
      key += "-zone";
      values.push_back(word_value("zone", "zone", *e.zone));
    }
    if (e.area_m2 > 0.0) {
      key += "-area";
      values.push_back(say::text("area", exact(words_, e.area_m2)));
    }
    return of_piece(key, *e.piece, values);
  }
  [[nodiscard]] std::string operator()(const Released& e) const {
    return e.advised.empty() ? tell("released") : tell("released-told", {say::text("advised", e.advised)});
  }
  [[nodiscard]] std::string operator()(const Rechecked& e) const {
    std::vector<Value> values{word_value("finding", "recheck", e.finding)};
    if (!e.zone) {
      return of_piece("rechecked", e.piece, values);
    }
    values.push_back(word_value("zone", "zone", *e.zone));
    return of_piece("rechecked-zone", e.piece, values);
  }
  [[nodiscard]] std::string operator()(const Superseded& e) const {
    return tell("superseded", {say::text("row", std::to_string(e.event))});
  }
  [[nodiscard]] std::string operator()(const Forgotten& /*e*/) const { return tell("forgotten"); }
  [[nodiscard]] std::string operator()(const Planned& e) const {
    return tell("planned", {say::count("pieces", e.pieces.size())});
  }
  [[nodiscard]] std::string operator()(const Noted& /*e*/) const { return tell("noted"); }
  // Events of the shop, and that an alert was seen, stand in no vehicle's record (domain/vehicle_of.hpp).
  template <class Other>
  [[nodiscard]] std::string operator()(const Other& /*e*/) const {
    return std::string{event_names[entry_.event.detail.index()]};
  }

 private:
  [[nodiscard]] std::string tell(std::string_view key, const std::vector<Value>& values = {}) const {
    return words_.say("record-events." + std::string{key}, values);
  }
  [[nodiscard]] std::string of_piece(std::string_view key, PieceId piece,
                                     std::vector<Value> values = {}) const {
    values.push_back(say::text("piece", piece_name(record_, piece)));
    return tell(key, values);
  }

  const Record& record_;
  const Words& words_;
  const EventEntry& entry_;
};

}  // namespace

std::string when_short(const Words& words, Time t) {
  return unbroken(words.zone().date_clock(t).substr(5));
}

std::string day(const Words& words, Time t) {
  return words.zone().date_clock(t).substr(0, 10);
}

std::string percent(const Words& words, double share) {
  return std::isfinite(share)
             ? unbroken(words.say("units.share", {say::text("n", words.fixed(100.0 * share, 1))}))
             : "-";
}

std::string chance_text(const Words& words, double share) {
  constexpr double nothing = 0.0005, least = 0.001;  // as it is rounded
  const auto bound = [&](const char* key, double at) {
    return unbroken(words.say(key, {say::text("share", percent(words, at))}));
  };
  return share < nothing          ? bound("record.under", least)
         : share >= 1.0 - nothing ? bound("record.over", 1.0 - least)
                                  : percent(words, share);
}

std::string exact(const Words& words, double value) {
  return number_in_print(value, words.decimal_sign());
}

std::string listed(const Words& words, const std::vector<std::string>& all) {
  std::vector<Fact> facts;
  std::ranges::transform(all, std::back_inserter(facts), ready_words);
  return words.value(say::facts("", std::move(facts)));
}

std::string standard_hour(const Words& words) {
  auto values = reference_air();
  values.push_back(say::figure("pace", Measure::figure, 0.5));
  return words.say("record.standard-hour", values);
}

std::vector<Value> reference_air() {
  return {say::celsius("temperature", models::reference_temperature.value()),
          say::humidity("humidity", 100.0 * models::reference_activity)};
}

std::string step_words(const Words& words, std::string_view step) {
  return words.say("words.done-" + std::string{step});
}

std::vector<std::pair<std::string, std::string>> personal_facts(const Record& record) {
  std::vector<std::pair<std::string, std::string>> facts;
  for (const auto& one : record.personal) {
    facts.emplace_back(
        record.words->say(one.field == personal_fields[0] ? "record.plate" : "record.customer"), one.text);
  }
  return facts;
}

std::string program(const Record& record) {
  return "dryclock " + record.version;
}

Metadata metadata(const Record& record, std::string title, std::string subject) {
  return {std::move(title), record.shop, std::move(subject), program(record), record.as_of};
}

std::string sheet_foot(const Record& record) {
  return record.words->say("record.sheet-foot", {say::text("zone", record.words->zone().name()),
                                                 say::text("program", program(record))});
}

void checkpoint_facts(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.fact(
      words.say("record.checkpoint"),
      words.say("record.checkpoint-made",
                {say::text("number", std::to_string(record.checkpoint_number)),
                 record.checkpoint_at ? say::time("at", *record.checkpoint_at) : say::text("at", "-")}));
  sheet.fact(words.say("record.checkpoint-sha256"), *record.checkpoint);
  sheet.fact(words.say("record.key-sha256"), record.key_sha256);
}

std::string piece_name(const Record& record, PieceId piece) {
  const auto* found = find_piece(record, piece);
  return found == nullptr
             ? record.words->say("record.piece-unknown", {say::text("number", std::to_string(piece))})
             : found->panel_label;
}

bool is_on(const PieceRecord& piece) {
  return !piece.summary.removed && !piece.summary.replaced_by;
}

std::string event_words(const Record& record, const EventEntry& event) {
  return std::visit(EventWords(record, event), event.event.detail);
}

}  // namespace dryclock::record
