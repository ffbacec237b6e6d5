#include <algorithm>
#include <boost/json/parse.hpp>
#include <map>
#include <set>

#include "domain/names.hpp"
#include "record/pages.hpp"
#include "record/shown_rows.hpp"
#include "record/text.hpp"
#include "record/vehicle_events.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

constexpr Font small{7.5, false, 0.0};

// A word of these pages.
std::string said(const Words& words, std::string_view key, const std::vector<Value>& values = {}) {
  return words.say("record-lists." + std::string{key}, values);
}

// "no readings" and "clock step" are what the journal's tables hold.
std::string why(const Words& words, const GapRow& gap) {
  return said(words, gap.why == "clock step" ? "gap-clock-step" : "gap-no-readings");
}

void gap_table(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (record.gaps.empty()) {
    sheet.paragraph(said(words, "gaps-none"));
    return;
  }
  std::vector<std::vector<Cell>> rows;
  for (const auto& gap : record.gaps) {
    rows.push_back({{gap.bay},
                    {words.when(gap.from)},
                    {words.when(gap.to)},
                    {words.span(std::chrono::round<std::chrono::minutes>(gap.to - gap.from))},
                    {why(words, gap)}});
  }
  sheet.paragraph(said(words, "gaps"));
  sheet.table({{said(words, "bay"), 1.0},
               {said(words, "from"), 1.5},
               {said(words, "to"), 1.5},
               {said(words, "length"), 1.0},
               {said(words, "why"), 1.5}},
              rows);
}

// What a start of the program told, {"version":...,"clock":...}.
std::string start_words(const Words& words, const DaemonStart& start) {
  boost::system::error_code wrong;
  const auto json = boost::json::parse(start.text, wrong);
  const auto* fields = wrong ? nullptr : json.if_object();
  if (fields == nullptr) {
    return start.text.empty() ? said(words, "start-untold") : start.text;
  }
  const auto text = [&](const char* key, std::string otherwise) {
    const auto* value = fields->if_contains(key);
    return say::text(
        key, value != nullptr && value->is_string() ? std::string{value->as_string()} : std::move(otherwise));
  };
  return said(words, "start-told", {text("version", words.say("record.not-told")), text("clock", "")});
}

void clock_list(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  const auto point = [&](std::string_view key, Time at, Seq row, std::string what) {
    sheet.point(said(
        words, key,
        {say::time("at", at), say::text("row", std::to_string(row)), say::text("what", std::move(what))}));
  };
  if (record.clock_steps.empty()) {
    sheet.paragraph(said(words, "clock-none"));
  }
  for (const auto& step : record.clock_steps) {
    point("clock-step", step.at, step.seq, words.sentence(step.text));
  }
  for (const auto& start : record.starts) {
    point("start", start.at, start.seq, start_words(words, start));
  }
  if (record.assumed) {
    point("settings-assumed", record.assumed->at, record.assumed->row, {});
  }
}

void verdict_table(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  std::vector<std::vector<Cell>> rows;
  for (const auto& sensor : record.sensors) {
    std::vector<std::string> bad;
    std::uint64_t all = 0;
    for (std::size_t v = 0; v < verdicts; ++v) {
      all += sensor.counts[v];
      if (v > 0 && sensor.counts[v] > 0) {
        bad.push_back(said(words, "unused-count",
                           {say::text("n", std::to_string(sensor.counts[v])),
                            say::text("verdict", words.word("verdict", static_cast<Verdict>(v)))}));
      }
    }
    rows.push_back({{sensor.mapping.sensor},
                    {words.word("quantity", sensor.mapping.quantity)},
                    {std::to_string(all)},
                    {std::to_string(sensor.counts[0])},
                    {bad.empty() ? words.say("record.none") : listed(words, bad)}});
  }
  sheet.paragraph(said(words, "readings-note"));
  sheet.table({{said(words, "sensor"), 1.2},
               {said(words, "quantity"), 1.3},
               {said(words, "readings"), 0.8, true},
               {said(words, "used"), 0.8, true},
               {said(words, "unused"), 2.6}},
              rows);
}

void reject_list(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (record.rejects.empty()) {
    sheet.paragraph(said(words, "rejects-none"));
    return;
  }
  // One message may fail for several quantities.
  struct Seen {
    std::set<Seq> messages;
    const RejectedRow* first = nullptr;
  };
  std::map<RejectReason, Seen> seen;
  std::set<Seq> messages;
  for (const auto& row : record.rejects) {
    auto& one = seen[row.reject.why];
    messages.insert(row.seq);
    one.messages.insert(row.seq);
    one.first = one.first == nullptr ? &row : one.first;
  }
  sheet.paragraph(said(words, "rejects", {say::text("n", std::to_string(messages.size()))}));
  for (const auto& [why, one] : seen) {
    sheet.point(said(words, "reject",
                     {say::text("n", std::to_string(one.messages.size())),
                      say::text("why", words.word("reject", why)), say::time("at", one.first->received),
                      say::text("topic", one.first->topic), say::text("detail", one.first->reject.detail)}));
  }
}

std::string check_words(const Words& words, const SensorChecked& check) {
  return said(
      words, "check-result",
      {say::text("verdict", std::string{name_of(check.verdict)}), say::humidity("shown", check.shown_pct),
       say::text("salt", std::string{name_of(check.salt)}),
       say::number("temperature", Measure::celsius, check.temperature_c),
       say::humidity("expected", check.expected_pct), say::humidity("within", check.expected_expanded_pct),
       say::humidity("tolerance", check.tolerance_pct)});
}

void mapping_table(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  std::vector<std::vector<Cell>> rows;
  for (const auto& [mapping, counts] : record.sensors) {
    rows.push_back({{mapping.sensor},
                    {mapping.bay},
                    {words.word("quantity", mapping.quantity)},
                    {mapping.pointer.empty()
                         ? mapping.topic
                         : said(words, "topic-field",
                                {say::text("topic", mapping.topic), say::text("field", mapping.pointer)})},
                    {words.unit_symbol(mapping.unit)},
                    {exact(words, mapping.slope)},
                    {exact(words, mapping.offset)},
                    {said(words, mapping.time_pointer.empty() ? "time-of-receipt" : "time-of-sensor")}});
  }
  sheet.table({{said(words, "sensor"), 1.0},
               {said(words, "bay"), 0.75},
               {said(words, "quantity"), 1.35},
               {said(words, "topic-and-field"), 1.75},
               {said(words, "unit"), 0.65},
               {said(words, "slope"), 0.95, true},
               {said(words, "offset"), 0.85, true},
               {said(words, "time"), 1.0}},
              rows);
  sheet.paragraph(said(words, "sensors-note"), small);
}

void paper_table(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  const auto noted = [&](const std::string& text) {
    return text.empty() ? words.say("record.not-noted") : text;
  };
  std::vector<std::vector<Cell>> rows;
  for (const auto& paper : record.sensor_papers) {
    rows.push_back({{paper.sensor},
                    {noted(paper.model)},
                    {noted(paper.place)},
                    {paper.checked ? words.when(*paper.checked) : said(words, "never-checked")},
                    {paper.result ? check_words(words, *paper.result) : "-"}});
  }
  sheet.table({{said(words, "sensor"), 1.1},
               {said(words, "model"), 1.3},
               {said(words, "place"), 1.4},
               {said(words, "last-check"), 1.5},
               {said(words, "check-outcome"), 2.6}},
              rows);
}

Cell what_cell(const Record& record, const EventEntry& entry) {
  Cell what{event_words(record, entry)};
  if (entry.superseded) {
    what.push_back(said(*record.words, "taken-back"));
  }
  if (!entry.event.note.empty()) {
    what.push_back(said(*record.words, "note", {say::text("note", entry.event.note)}));
  }
  return what;
}

Cell entered_cell(const Words& words, const EventEntry& entry) {
  Cell entered{entered_late(entry.event) ? words.when(entry.event.entered)
                                         : said(words, entry.redated ? "not-known" : "at-once")};
  if (entry.redated) {
    entered.push_back(said(words, "dated-anew"));
  }
  return entered;
}

Cell delivery_cell(const Words& words, const AlertCourse& alert) {
  Cell deliveries;
  for (const auto& delivery : alert.deliveries) {
    deliveries.push_back(
        said(words, delivery.given_up ? "given-up" : "delivered",
             {say::text("channel", delivery.channel), say::text("at", when_short(words, delivery.at))}));
  }
  return deliveries.empty() ? Cell{said(words, "no-channel")} : deliveries;
}

void proof(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "proof"));
  sheet.paragraph(record.checkpoint
                      ? said(words, "proof-sealed",
                             {say::text("name", *record.checkpoint_name),
                              say::text("hash", *record.checkpoint), say::text("key", record.key_sha256)})
                      : said(words, "proof-unsealed", {say::fact("why", record.unsealed)}));
  for (const auto* key : {"proof-order", "proof-truth", "proof-key", "proof-estimate"}) {
    sheet.point(said(words, key));
  }
}

}  // namespace

void event_pages(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "events"));
  std::vector<std::vector<Cell>> rows;
  for (std::size_t i = 0; i < record.events.size(); ++i) {
    const auto& one = record.events[i];
    rows.push_back({{std::to_string(i + 1)},
                    {words.when(one.event.at)},
                    entered_cell(words, one),
                    what_cell(record, one),
                    {one.event.who.empty() ? "-" : one.event.who},
                    {std::to_string(one.event.seq)}});
  }
  sheet.table({{said(words, "number"), 0.45, true},
               {said(words, "when"), 1.6},
               {said(words, "entered"), 1.6},
               {said(words, "what"), 3.2},
               {said(words, "who"), 0.6},
               {said(words, "row"), 0.6, true}},
              rows);
}

void alert_pages(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "alerts"));
  if (record.shown.empty()) {
    sheet.paragraph(said(words, "alerts-not-kept"));
    return;
  }
  std::vector<std::vector<Cell>> rows;
  for (const auto& one : record.alerts) {
    rows.push_back({{words.when(one.raised)},
                    {one.alert.text},
                    {one.seen ? when_short(words, *one.seen) : "-"},
                    {one.cleared ? when_short(words, *one.cleared) : said(words, "open")},
                    delivery_cell(words, one)});
  }
  if (rows.empty()) {
    sheet.paragraph(said(words, "alerts-none"));
    return;
  }
  sheet.table({{said(words, "raised"), 1.5},
               {said(words, "alert"), 3.0},
               {said(words, "seen"), 0.9},
               {said(words, "over"), 0.9},
               {said(words, "sent-to"), 1.4}},
              rows);
}

void disclosure_pages(Sheet& sheet, const Record& record) {
  sheet.heading(said(*record.words, "missing"));
  gap_table(sheet, record);
  clock_list(sheet, record);
  verdict_table(sheet, record);
  reject_list(sheet, record);
  sheet.heading(said(*record.words, "sensors"));
  mapping_table(sheet, record);
  paper_table(sheet, record);
}

void closing_pages(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(said(words, "figures"));
  std::vector<std::vector<Cell>> rows;
  for (const auto& one : record.parameters) {
    rows.push_back({{words.fact(one.name)},
                    {exact(words, one.value)},
                    {words.fact(one.unit)},
                    {words.fact(one.source)}});
  }
  sheet.table({{said(words, "figure"), 2.9},
               {said(words, "value"), 1.0, true},
               {said(words, "unit"), 0.8},
               {said(words, "source"), 2.0}},
              rows);
  sheet.paragraph(said(words, "figures-note"), small);
  proof(sheet, record);
  sheet.heading(said(words, "cautions"));
  for (const auto* caution : {"cautions.advice", "cautions.heat", "cautions.solvent", "cautions.systems"}) {
    sheet.point(words.say(caution));
  }
}

}  // namespace dryclock::record
