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

std::string why(const Words& words, const GapRow& gap) {
  return words.say(gap.why == GapWhy::clock_step ? "record-lists.gap-clock-step"
                                                 : "record-lists.gap-no-readings");
}

void gap_table(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (record.gaps.empty()) {
    sheet.paragraph(words.say("record-lists.gaps-none"));
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
  sheet.paragraph(words.say("record-lists.gaps"));
  sheet.table({{words.say("record-lists.bay"), 1.0},
               {words.say("record-lists.from"), 1.5},
               {words.say("record-lists.to"), 1.5},
               {words.say("record-lists.length"), 1.0},
               {words.say("record-lists.why"), 1.5}},
              rows);
}

// What a start of the program told, {"version":...,"clock":...}.
std::string start_words(const Words& words, const DaemonStart& start) {
  boost::system::error_code wrong;
  const auto json = boost::json::parse(start.text, wrong);
  const auto* fields = wrong ? nullptr : json.if_object();
  if (fields == nullptr) {
    return start.text.empty() ? words.say("record-lists.start-untold") : start.text;
  }
  const auto text = [&](const char* key, std::string otherwise) {
    const auto* value = fields->if_contains(key);
    return say::text(
        key, value != nullptr && value->is_string() ? std::string{value->as_string()} : std::move(otherwise));
  };
  return words.say("record-lists.start-told",
                   {text("version", words.say("record.not-told")), text("clock", "")});
}

void clock_list(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  const auto point = [&](std::string_view key, Time at, Seq row, std::string what) {
    sheet.point(words.say(key, {say::time("at", at), say::text("row", std::to_string(row)),
                                say::text("what", std::move(what))}));
  };
  if (record.clock_steps.empty()) {
    sheet.paragraph(words.say("record-lists.clock-none"));
  }
  for (const auto& step : record.clock_steps) {
    point("record-lists.clock-step", step.at, step.seq, words.sentence(step.text));
  }
  for (const auto& start : record.starts) {
    point("record-lists.start", start.at, start.seq, start_words(words, start));
  }
  if (record.assumed) {
    point("record-lists.settings-assumed", record.assumed->at, record.assumed->row, {});
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
        bad.push_back(words.say("record-lists.unused-count",
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
  sheet.paragraph(words.say("record-lists.readings-note"));
  sheet.table({{words.say("record-lists.sensor"), 1.2},
               {words.say("record-lists.quantity"), 1.3},
               {words.say("record-lists.readings"), 0.8, true},
               {words.say("record-lists.used"), 0.8, true},
               {words.say("record-lists.unused"), 2.6}},
              rows);
}

void reject_list(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  if (record.rejects.empty()) {
    sheet.paragraph(words.say("record-lists.rejects-none"));
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
  sheet.paragraph(words.say("record-lists.rejects", {say::text("n", std::to_string(messages.size()))}));
  for (const auto& [why, one] : seen) {
    sheet.point(
        words.say("record-lists.reject",
                  {say::text("n", std::to_string(one.messages.size())),
                   say::text("why", words.word("reject", why)), say::time("at", one.first->received),
                   say::text("topic", one.first->topic), say::text("detail", one.first->reject.detail)}));
  }
}

std::string check_words(const Words& words, const SensorChecked& check) {
  return words.say(
      "record-lists.check-result",
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
                         : words.say("record-lists.topic-field", {say::text("topic", mapping.topic),
                                                                  say::text("field", mapping.pointer)})},
                    {words.unit_symbol(mapping.unit)},
                    {exact(words, mapping.slope)},
                    {exact(words, mapping.offset)},
                    {words.say(mapping.time_pointer.empty() ? "record-lists.time-of-receipt"
                                                            : "record-lists.time-of-sensor")}});
  }
  sheet.table({{words.say("record-lists.sensor"), 1.0},
               {words.say("record-lists.bay"), 0.75},
               {words.say("record-lists.quantity"), 1.35},
               {words.say("record-lists.topic-and-field"), 1.75},
               {words.say("record-lists.unit"), 0.65},
               {words.say("record-lists.slope"), 0.95, true},
               {words.say("record-lists.offset"), 0.85, true},
               {words.say("record-lists.time"), 1.0}},
              rows);
  sheet.paragraph(words.say("record-lists.sensors-note"), small);
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
                    {paper.checked ? words.when(*paper.checked) : words.say("record-lists.never-checked")},
                    {paper.result ? check_words(words, *paper.result) : "-"}});
  }
  sheet.table({{words.say("record-lists.sensor"), 1.1},
               {words.say("record-lists.model"), 1.3},
               {words.say("record-lists.place"), 1.4},
               {words.say("record-lists.last-check"), 1.5},
               {words.say("record-lists.check-outcome"), 2.6}},
              rows);
}

Cell what_cell(const Record& record, const EventEntry& entry) {
  Cell what{event_words(record, entry)};
  if (entry.superseded) {
    what.push_back(record.words->say("record-lists.taken-back"));
  }
  if (!entry.event.note.empty()) {
    what.push_back(record.words->say("record-lists.note", {say::text("note", entry.event.note)}));
  }
  return what;
}

Cell entered_cell(const Words& words, const EventEntry& entry) {
  Cell entered{entered_late(entry.event)
                   ? words.when(entry.event.entered)
                   : words.say(entry.redated ? "record-lists.not-known" : "record-lists.at-once")};
  if (entry.redated) {
    entered.push_back(words.say("record-lists.dated-anew"));
  }
  return entered;
}

Cell delivery_cell(const Words& words, const AlertCourse& alert) {
  Cell deliveries;
  for (const auto& delivery : alert.deliveries) {
    deliveries.push_back(
        words.say(delivery.given_up ? "record-lists.given-up" : "record-lists.delivered",
                  {say::text("channel", delivery.channel), say::text("at", when_short(words, delivery.at))}));
  }
  return deliveries.empty() ? Cell{words.say("record-lists.no-channel")} : deliveries;
}

void proof(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-lists.proof"));
  sheet.paragraph(record.checkpoint
                      ? words.say("record-lists.proof-sealed", {say::text("name", *record.checkpoint_name),
                                                                say::text("hash", *record.checkpoint),
                                                                say::text("key", record.key_sha256)})
                      : words.say("record-lists.proof-unsealed", {say::fact("why", record.unsealed)}));
  for (const auto* key : {"record-lists.proof-order", "record-lists.proof-truth", "record-lists.proof-key",
                          "record-lists.proof-estimate"}) {
    sheet.point(words.say(key));
  }
}

}  // namespace

void event_pages(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-lists.events"));
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
  sheet.table({{words.say("record-lists.number"), 0.45, true},
               {words.say("record-lists.when"), 1.6},
               {words.say("record-lists.entered"), 1.6},
               {words.say("record-lists.what"), 3.2},
               {words.say("record-lists.who"), 0.6},
               {words.say("record-lists.row"), 0.6, true}},
              rows);
}

void alert_pages(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-lists.alerts"));
  if (record.shown.empty()) {
    sheet.paragraph(words.say("record-lists.alerts-not-kept"));
    return;
  }
  std::vector<std::vector<Cell>> rows;
  for (const auto& one : record.alerts) {
    rows.push_back({{words.when(one.raised)},
                    {one.alert.text},
                    {one.seen ? when_short(words, *one.seen) : "-"},
                    {one.cleared ? when_short(words, *one.cleared) : words.say("record-lists.open")},
                    delivery_cell(words, one)});
  }
  if (rows.empty()) {
    sheet.paragraph(words.say("record-lists.alerts-none"));
    return;
  }
  sheet.table({{words.say("record-lists.raised"), 1.5},
               {words.say("record-lists.alert"), 3.0},
               {words.say("record-lists.seen"), 0.9},
               {words.say("record-lists.over"), 0.9},
               {words.say("record-lists.sent-to"), 1.4}},
              rows);
}

void disclosure_pages(Sheet& sheet, const Record& record) {
  sheet.heading(record.words->say("record-lists.missing"));
  gap_table(sheet, record);
  clock_list(sheet, record);
  verdict_table(sheet, record);
  reject_list(sheet, record);
  sheet.heading(record.words->say("record-lists.sensors"));
  mapping_table(sheet, record);
  paper_table(sheet, record);
}

void closing_pages(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  sheet.heading(words.say("record-lists.figures"));
  std::vector<std::vector<Cell>> rows;
  for (const auto& one : record.parameters) {
    rows.push_back({{words.fact(one.name)},
                    {exact(words, one.value)},
                    {words.fact(one.unit)},
                    {words.fact(one.source)}});
  }
  sheet.table({{words.say("record-lists.figure"), 2.9},
               {words.say("record-lists.value"), 1.0, true},
               {words.say("record-lists.unit"), 0.8},
               {words.say("record-lists.source"), 2.0}},
              rows);
  sheet.paragraph(words.say("record-lists.figures-note"), small);
  proof(sheet, record);
  sheet.heading(words.say("record-lists.cautions"));
  for (const auto* caution : {"cautions.advice", "cautions.heat", "cautions.solvent", "cautions.systems"}) {
    sheet.point(words.say(caution));
  }
}

}  // namespace dryclock::record
