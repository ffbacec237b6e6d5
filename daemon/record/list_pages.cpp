#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "base/plain_words.hpp"
#include "domain/names.hpp"
#include "record/pages.hpp"
#include "record/text.hpp"
#include "record/vehicle_events.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

constexpr Font small{7.5, false, 0.0};

void gap_table(Sheet& sheet, const Record& record) {
  if (record.gaps.empty()) {
    sheet.paragraph(
        "Gaps: none. Readings of temperature and humidity stand on either side of every minute shown.");
    return;
  }
  std::vector<std::vector<Cell>> rows;
  for (const auto& gap : record.gaps) {
    rows.push_back({{gap.bay},
                    {when(record, gap.from)},
                    {when(record, gap.to)},
                    {span(std::chrono::round<std::chrono::minutes>(gap.to - gap.from))},
                    {gap.why}});
  }
  sheet.paragraph("Gaps. In each, the air of that end is assumed under which film dries more slowly.");
  sheet.table({{"Bay", 1.0}, {"From", 1.5}, {"To", 1.5}, {"Length", 1.0}, {"Why", 1.5}}, rows);
}

void clock_list(Sheet& sheet, const Record& record) {
  if (record.clock_steps.empty()) {
    sheet.paragraph("Steps of the clock: none was seen.");
  }
  for (const auto& step : record.clock_steps) {
    sheet.point(fmt::format("Clock step at {} (row {}): {}", when(record, step.at), step.seq, step.told));
  }
  for (const auto& start : record.starts) {
    sheet.point(fmt::format("Program started at {} (row {}): {}", when(record, start.at), start.seq,
                            start_words(start)));
  }
  if (record.assumed) {
    sheet.point(fmt::format(
        "Settings before row {} are assumed: they stood in no row then. Those told in that row, at {}, are "
        "taken to have held.",
        record.assumed->row, when(record, record.assumed->at)));
  }
}

void verdict_table(Sheet& sheet, const Record& record) {
  std::vector<std::vector<Cell>> rows;
  for (const auto& sensor : record.sensors) {
    std::string bad;
    std::uint64_t all = 0;
    for (std::size_t v = 0; v < verdicts; ++v) {
      all += sensor.counts[v];
      if (v > 0 && sensor.counts[v] > 0) {
        bad += fmt::format("{}{} {}", bad.empty() ? "" : ", ", sensor.counts[v],
                           in_words(static_cast<Verdict>(v)));
      }
    }
    rows.push_back({{sensor.mapping.sensor},
                    {std::string{in_words(sensor.mapping.quantity)}},
                    {std::to_string(all)},
                    {std::to_string(sensor.counts[0])},
                    {bad.empty() ? "none" : bad}});
  }
  sheet.paragraph(
      "Readings. Only those that were believed reach the estimate; every one is in readings.csv with its "
      "verdict.");
  sheet.table({{"Sensor", 1.2},
               {"Quantity", 1.3},
               {"Readings", 0.8, true},
               {"Used", 0.8, true},
               {"Not used, and why", 2.6}},
              rows);
}

void reject_list(Sheet& sheet, const Record& record) {
  if (record.rejects.empty()) {
    sheet.paragraph("Messages of these sensors that could not be read: none.");
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
  sheet.paragraph(fmt::format("Messages of these sensors that could not be read: {}.", messages.size()));
  for (const auto& [why, one] : seen) {
    sheet.point(fmt::format("{} {}; the first at {} on topic {}: {}", one.messages.size(), in_words(why),
                            when(record, one.first->received), one.first->topic, one.first->reject.detail));
  }
}

void sensor_table(Sheet& sheet, const Record& record) {
  sheet.heading("Sensors");
  std::vector<std::vector<Cell>> rows;
  for (const auto& [mapping, counts] : record.sensors) {
    rows.push_back({{mapping.sensor},
                    {mapping.bay},
                    {std::string{in_words(mapping.quantity)}},
                    {mapping.topic + (mapping.pointer.empty() ? "" : " at " + mapping.pointer)},
                    {std::string{in_words(mapping.unit)}},
                    {number(mapping.slope)},
                    {number(mapping.offset)},
                    {mapping.time_pointer.empty() ? "of receipt" : "the sensor's"}});
  }
  sheet.table({{"Sensor", 1.1},
               {"Bay", 0.8},
               {"Quantity", 1.3},
               {"Topic and field", 2.2},
               {"Unit", 0.6},
               {"Slope", 0.6, true},
               {"Offset", 0.6, true},
               {"Time", 0.9}},
              rows);
  sheet.paragraph(
      "Slope and offset are applied in the sensor's unit. A sensor that was corrected stands here once for "
      "each way in which it was read.",
      small);
  std::vector<std::vector<Cell>> papers;
  for (const auto& paper : record.sensor_papers) {
    papers.push_back({{paper.sensor},
                      {paper.model.empty() ? "not noted" : paper.model},
                      {paper.place.empty() ? "not noted" : paper.place},
                      {paper.checked ? when(record, *paper.checked) : "NEVER, as far as the log tells"},
                      {paper.checked ? typeset(record, paper.result) : "-"}});
  }
  sheet.table(
      {{"Sensor", 1.1}, {"Model", 1.4}, {"Place", 1.6}, {"Last check over salt", 1.4}, {"Its result", 2.4}},
      papers);
}

}  // namespace

void event_pages(Sheet& sheet, const Record& record) {
  sheet.heading("Events");
  std::vector<std::vector<Cell>> rows;
  for (std::size_t i = 0; i < record.events.size(); ++i) {
    const auto& one = record.events[i];
    Cell what{told(record, one)};
    if (one.superseded) {
      what.emplace_back("TAKEN BACK: entered wrongly, counts as if it had never been");
    }
    if (!one.event.note.empty()) {
      what.push_back("note: " + one.event.note);
    }
    Cell entered{told_late(one.event) ? when(record, one.event.entered)
                 : one.redated        ? "not known"
                                      : "at once"};
    if (one.redated) {
      entered.emplace_back("THE CLOCK WAS WRONG: dated anew");
    }
    rows.push_back({{std::to_string(i + 1)},
                    {when(record, one.event.at)},
                    std::move(entered),
                    what,
                    {one.event.who.empty() ? "-" : one.event.who},
                    {std::to_string(one.event.seq)}});
  }
  sheet.table(
      {{"No.", 0.45, true}, {"When", 1.6}, {"Entered", 1.6}, {"What", 3.2}, {"Who", 0.6}, {"Row", 0.6, true}},
      rows);
}

void alert_pages(Sheet& sheet, const Record& record) {
  sheet.heading("Alerts");
  if (record.shown.empty()) {
    sheet.paragraph("The log of this vehicle does not keep which alerts were shown.");
    return;
  }
  std::vector<std::vector<Cell>> rows;
  for (const auto& one : record.alerts) {
    Cell deliveries;
    for (const auto& delivery : one.deliveries) {
      deliveries.push_back(fmt::format("{}: {} {}", delivery.channel,
                                       delivery.given_up ? "GIVEN UP" : "delivered",
                                       when_short(record, delivery.at)));
    }
    rows.push_back({{when(record, one.raised)},
                    {typeset(record, one.alert.text)},
                    {one.seen ? when_short(record, *one.seen) : "-"},
                    {one.cleared ? when_short(record, *one.cleared) : "open"},
                    deliveries.empty() ? Cell{"to no channel"} : deliveries});
  }
  if (rows.empty()) {
    sheet.paragraph(
        "None was raised for the vehicle, and none was open for its bays and their sensors while it was "
        "here.");
    return;
  }
  sheet.table({{"Raised", 1.5}, {"Alert", 3.0}, {"Seen", 0.9}, {"Over", 0.9}, {"Sent to", 1.4}}, rows);
}

void disclosure_pages(Sheet& sheet, const Record& record) {
  sheet.heading("What is missing, or was not used");
  gap_table(sheet, record);
  clock_list(sheet, record);
  verdict_table(sheet, record);
  reject_list(sheet, record);
  sensor_table(sheet, record);
}

void closing_pages(Sheet& sheet, const Record& record) {
  sheet.heading("Figures the estimate rests on");
  std::vector<std::vector<Cell>> rows;
  for (const auto& one : record.parameters) {
    rows.push_back({{typeset(record, one.name)},
                    {number_in_print(one.value)},
                    {one.unit == "1" ? "" : typeset(record, one.unit)},
                    {one.source}});
  }
  sheet.table({{"Figure", 2.9}, {"Value", 1.0, true}, {"Unit", 0.8}, {"Source", 2.0}}, rows);
  sheet.paragraph(
      "As configured when this record was made; film and water figures are the middle of wide ranges, which "
      "the grey bands show. Sources by their keys: the program's models/SOURCES.md has the full references.",
      small);

  sheet.heading("What this record shows, and what it does not");
  if (record.checkpoint) {
    sheet.paragraph(
        fmt::format("Checkpoint {} covers every row of this record. Its SHA-256: {}. The first public key's "
                    "SHA-256: {}. The zip file carries the sealed rows, the chain of checkpoints and a page "
                    "that tells how to verify them without this program.",
                    *record.checkpoint_name, *record.checkpoint, record.key_sha256));
  } else {
    sheet.paragraph("No checkpoint covers this record: " + record.unsealed + ".");
  }
  sheet.point(
      "A seal shows that rows were not altered, dropped or put in another order after the checkpoint was "
      "made.");
  sheet.point(
      "It does not show that they were true when they were written: not that a sensor told the truth, not "
      "that a step was done when it was entered, not that the shop's clock was right.");
  sheet.point(
      "The shop keeps the key. Only a hash that left the shop in time, such as the one on the hand-over "
      "sheet, binds the shop itself.");
  sheet.point(
      "The water under the film is estimated from the air, never measured. The estimate is no test of the "
      "work and no promise.");
  sheet.heading("Cautions");
  for (const auto caution : cautions()) {
    sheet.point(caution);
  }
}

}  // namespace dryclock::record
