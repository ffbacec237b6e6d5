#include <doctest/doctest.h>

#include "history/journal.hpp"
#include "history/look_at_boots.hpp"
#include "made_journal.hpp"
#include "noon.hpp"
#include "wire/announced_json.hpp"
#include "wire/learnt_json.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::history {
namespace {

using namespace std::chrono_literals;

std::string redated_row(const std::string& boot, Time booted) {
  return wire::to_json(Redated{boot, booted, 1, 1, 1h, ClockFault::stepped});
}

Time dated(const MadeJournal& journal, Seq seq) {
  const auto reader = journal.reader();
  const auto dates = Dates::read(reader, false).value();
  return dates.of(*reader.stamp(seq).value());
}

TEST_CASE("a row that says when a boot began dates the rows of that boot that came before it, alone") {
  MadeJournal journal;
  journal.start("other", true);
  const Seq other = journal.add(RowKind::message, noon - 90h, 5min);
  journal.start("one", true);
  const Seq ahead = journal.add(RowKind::message, noon + 24h, 10min);
  const Seq near = journal.add(RowKind::message, noon + 4s, 20min);
  journal.add(RowKind::redated, noon + 10min, 30min, redated_row("one", noon - 20min));
  const Seq queued = journal.add(RowKind::message, noon + 24h, 30min + 1s);  // labelled before the step
  const Seq later = journal.add(RowKind::message, noon + 99h, 5h);
  CHECK(dated(journal, other) == noon - 90h);
  CHECK(dated(journal, ahead) == noon - 10min);
  CHECK(dated(journal, near) == noon + 4s);  // less than the slack: it stands as it was written
  CHECK(dated(journal, queued) == noon + 10min + 1s);
  CHECK(dated(journal, later) == noon + 99h);
}

TEST_CASE("of two that date the same row, the later counts; one from a later boot dates all") {
  MadeJournal journal;
  journal.start("one", false);
  const Seq row = journal.add(RowKind::message, noon, 10min);
  journal.add(RowKind::redated, noon, 20min, redated_row("one", noon + 1h));
  const Seq after = journal.add(RowKind::message, noon + 5h, 4h);
  CHECK(dated(journal, row) == noon + 1h + 10min);
  journal.start("two", true);
  journal.add(RowKind::redated, noon, 1min, redated_row("one", noon - 9h));
  CHECK(dated(journal, row) == noon - 9h + 10min);
  CHECK(dated(journal, after) == noon - 9h + 4h);
}

TEST_CASE("an event moves with its row, but for a time that was told by another clock") {
  MadeJournal journal;
  journal.start("one", false);
  // The daemon's clock was a day behind; it was told now, earlier by its clock, and by a watch.
  const auto event = [&](Time at) {
    return journal.add(RowKind::event, noon - 24h, 10min,
                       R"({"what":"note","vehicle":1,"at":")" + to_rfc3339(at) + R"(","note":"x"})");
  };
  event(noon - 24h);
  event(noon - 24h - 5min);
  event(noon - 20min);
  journal.add(RowKind::redated, noon, 10min, redated_row("one", noon - 10min));
  const auto reader = journal.reader();
  const auto events = history::events(reader, Dates::read(reader, false).value()).value();
  REQUIRE(events.size() == 3);
  for (const auto& one : events) {
    CHECK(one.event.entered == noon);
    CHECK(one.redated);
  }
  // A walk that begins later decodes such a row once more, and comes to the same.
  const auto journal_read = Journal::read(reader, false).value();
  auto early = journal_read.before(4, [](const RecordedEvent&) { return true; });
  REQUIRE(early.size() == 3);
  REQUIRE(early[0].parsed != nullptr);
  JournalRow walked = reader.rows_of(RowKind::event).value().front();
  CHECK(walked.parsed == nullptr);
  journal_read.recall(walked);
  CHECK(walked.parsed == early[0].parsed);
  early[0].message.payload.clear();  // it was read already, and is not read again
  CHECK(journal_read.dates.decode(early[0], {}, {}).event->at == noon);
  CHECK(events[0].event.at == noon);
  CHECK(events[1].event.at == noon - 5min);
  CHECK(events[2].event.at == noon - 20min);
}

TEST_CASE("what was announced moves with its row") {
  MadeJournal journal;
  journal.start("one", false);
  const Time label = noon - 24h;  // the daemon's clock was a day behind
  const Announced said{7, label - 3s, {{9, models::Milestone::wrap_ready, Word::ready, 0.9}}};
  journal.add(RowKind::announced, label, 10min, wire::to_json(said), "vehicle/7");
  journal.add(RowKind::redated, noon, 10min, redated_row("one", noon - 10min));
  const auto reader = journal.reader();
  auto rows = reader.rows_of(RowKind::announced).value();
  REQUIRE(rows.size() == 1);
  const auto decoded = Dates::read(reader, false).value().decode(rows[0], {}, {});
  REQUIRE(decoded.announced);
  CHECK(rows[0].message.received_at == noon);
  CHECK(decoded.announced->at == noon - 3s);
  CHECK(bool{decoded.announced->announcements == said.announcements});
}

TEST_CASE("what was learnt moves with its row, and is told with what comes before a window") {
  MadeJournal journal;
  journal.start("one", false);
  const Time label = noon - 24h;  // the daemon's clock was a day behind
  const Seq in =
      journal.add(RowKind::event, label, 9min,
                  R"({"what":"vehicle-in","reference":"a","bay":"front","at":")" + to_rfc3339(label) + "\"}");
  const Seq row = journal.add(RowKind::learnt, label, 10min, wire::to_json(Learnt{in, label - 3s, 2, 2, {}}),
                              "vehicle/1");
  journal.add(RowKind::message, label, 11min);
  journal.add(RowKind::redated, noon, 12min, redated_row("one", noon - 10min));
  const auto read = Journal::read(journal.reader(), false).value();
  auto rows = read.before(row + 1, of_the_shop);
  REQUIRE(rows.size() == 1);  // the arrival is none of the shop's
  CHECK(rows[0].seq == row);
  CHECK(read.before(row, of_the_shop).empty());
  const auto all = read.before(row + 1, [](const RecordedEvent&) { return true; });
  REQUIRE(all.size() == 2);
  CHECK(all[0].seq == in);
  CHECK(all[1].seq == row);
  const auto decoded = read.dates.decode(rows[0], {}, {});
  REQUIRE(decoded.learnt);
  CHECK(decoded.learnt->at == noon - 3s);
}

TEST_CASE("the first row after a time is the one that reading them all finds") {
  MadeJournal journal;
  journal.start("one", true);
  for (int i = 0; i < 40; ++i) {  // an hour ahead up to the 20th
    journal.add(RowKind::message, noon + i * 10s + (i < 20 ? 1h : 0h), 1h + i * 10s);
  }
  journal.add(RowKind::redated, noon + 400s, 1h + 400s, redated_row("one", noon - 1h));
  journal.start("two", true);
  for (int i = 0; i < 20; ++i) {
    journal.add(RowKind::message, noon + 2h + i * 10s, 1min + i * 10s);
  }
  const auto reader = journal.reader();
  const auto dates = Dates::read(reader, false).value();
  const auto last = reader.extent().value().last;
  for (const auto offset : {-2h + 0s, 0h + 0s, 0h + 1s, 0h + 190s, 0h + 191s, 0h + 399s, 1h + 0s, 2h + 0s,
                            2h + 95s, 2h + 190s, 2h + 191s, 9h + 0s}) {
    CAPTURE(offset.count());
    Seq by_reading_all = last + 1;
    for (Seq seq = last; seq > 0; --seq) {
      if (dates.of(*reader.stamp(seq).value()) >= noon + offset) {
        by_reading_all = seq;
      }
    }
    CHECK(dates.first_at_or_after(reader, noon + offset).value() == by_reading_all);
  }
}

TEST_CASE("an old journal's step, seen or between two starts, is found once") {
  MadeJournal journal;
  journal.start("one", false);
  journal.add(RowKind::started, noon + 24h, 1min);
  const Seq last_ahead = journal.add(RowKind::message, noon + 24h + 9min, 10min);
  journal.add(RowKind::clock_step, noon + 10min, 11min);
  const Seq right = journal.add(RowKind::message, noon + 11min, 12min);
  journal.start("one", false);
  journal.add(RowKind::configured, noon + 7h, 7h + 1min);
  journal.add(RowKind::started, noon + 7h, 7h + 1min);
  const ClockNow now{journal.session(), noon - 1min, 8h, false};
  const auto judged =
      look_at_boots(journal.reader(), Dates::read(journal.reader(), false).value(), now).value();
  REQUIRE(judged.redated.size() == 1);
  CHECK(judged.redated[0].first == 1);
  CHECK(judged.redated[0].last == last_ahead);
  CHECK(judged.redated[0].booted == noon - 1min);
  CHECK(judged.booted == noon - 1min);

  journal.add(RowKind::redated, noon + 8h, 8h + 1min, wire::to_json(judged.redated[0]));
  CHECK(dated(journal, last_ahead) == noon + 9min);
  CHECK(dated(journal, right) == noon + 11min);
  const auto again =
      look_at_boots(journal.reader(), Dates::read(journal.reader(), false).value(), now).value();
  CHECK(again.redated.empty());
}

TEST_CASE("a start that ended before it told of itself is of its own boot") {
  // Ten days of "one"; then the machine boots anew, and a start is killed after its first row, twice.
  MadeJournal journal;
  journal.start("one", true);
  journal.add(RowKind::started, noon, 1min);
  journal.add(RowKind::message, noon + 240h, 240h + 1min);
  journal.start("two", true);
  journal.add(RowKind::configured, noon + 241h, 2min);
  journal.start("two", true);
  journal.add(RowKind::configured, noon + 241h + 5min, 7min);
  journal.start("three", true);
  const ClockNow now{journal.session(), noon + 250h, 1min, true};
  const auto judged =
      look_at_boots(journal.reader(), Dates::read(journal.reader(), false).value(), now).value();
  CHECK(judged.redated.empty());
  CHECK(judged.booted == noon + 250h);
}

TEST_CASE("a clock that drifts within a session is not one that was set, one that jumps in it is") {
  const auto by = [](Millis drift) {
    MadeJournal journal;
    journal.start("one", true);
    journal.add(RowKind::started, noon, 0min);
    journal.add(RowKind::message, noon + 240h + drift, 240h);
    const ClockNow now{journal.session(), noon + drift, 241h, true};
    return look_at_boots(journal.reader(), Dates::read(journal.reader(), false).value(), now)
        .value()
        .redated.size();
  };
  CHECK(by(50s) == 0);  // 5 s a day
  CHECK(by(1h) == 1);
}

TEST_CASE("what devices told holds for the rest of the boot, until somebody vouches for the clock") {
  MadeJournal journal;
  journal.start("one", true);
  journal.add(RowKind::started, noon - 1h, 1min);
  journal.add(RowKind::message, noon, 1h + 1min);
  journal.start("two", false);  // from 1970; what it hears is taken to follow what came last
  journal.add(RowKind::started, noon, 1min);
  const Seq first = journal.add(RowKind::message, noon + 1min, 2min);
  const auto look = [&](Time says, Millis boot_time, bool trusted, std::optional<Time> by_devices) {
    const auto reader = journal.reader();
    return look_at_boots(reader, Dates::read(reader, false).value(),
                         {journal.session(), says, boot_time, trusted, by_devices})
        .value();
  };
  CHECK_FALSE(look(Time{}, 6min, false, std::nullopt).known);
  const auto judged = look(Time{}, 6min, false, noon + 5h);
  REQUIRE(judged.redated.size() == 1);
  CHECK(judged.redated[0].why == ClockFault::by_devices);
  CHECK(judged.redated[0].last == first);
  journal.add(RowKind::redated, noon + 5h + 6min, 6min, wire::to_json(judged.redated[0]));
  CHECK(dated(journal, first) == noon + 5h + 2min);

  journal.start("two", false);
  const auto again = look(Time{}, 9min, false, std::nullopt);
  CHECK(again.known);
  CHECK(again.booted == noon + 5h);
  REQUIRE(again.redated.size() == 1);
  CHECK(again.redated[0].first == 0);  // nothing is dated anew

  const auto vouched = look(noon + 4h, 20min, true, noon + 5h);
  CHECK(vouched.booted == noon + 4h);
  CHECK(vouched.redated.back().why == ClockFault::stepped);
}

}  // namespace
}  // namespace dryclock::history
