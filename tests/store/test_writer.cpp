#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <future>
#include <iterator>
#include <limits>
#include <mutex>
#include <thread>

#include "rows.hpp"
#include "support/eventually.hpp"
#include "support/full_disk.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

TEST_CASE("what append returns is on disk, byte for byte") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  auto entry = message(std::string("\0{\"t\":\xff}", 8));
  entry.message.dup = true;
  entry.message.retained = true;
  entry.message.cut = true;
  const auto appended = writer->append(entry, cap);
  REQUIRE(appended.has_value());
  CHECK(appended->seq == 1);
  const auto row = row_of(open_reader(folder / "a.db"), 1);
  CHECK(row.kind == RowKind::message);
  CHECK(row.message.topic == entry.message.topic);
  CHECK(row.message.payload == entry.message.payload);
  CHECK(row.message.received_at == noon);
  CHECK(row.message.qos == 1);
  CHECK(row.message.dup);
  CHECK(row.message.retained);
  CHECK(row.message.cut);
}

TEST_CASE("while no file can be written the writer says so once, and ends when it is told to") {
  const test::ScratchFolder folder;
  std::atomic<int> changes = 0;
  auto writer = open_writer(
      folder / "a.db", {.on_rows = {}, .on_outbox = {}, .on_health = [&](const StoreHealth&) { ++changes; }});
  REQUIRE(writer->append(message("1"), cap).has_value());
  // Who reads keeps the log's files open, so that opening them again needs no room.
  const auto reader = open_reader(folder / "a.db");
  REQUIRE(reader.extent().value().last == 1);
  {
    const test::FullDisk full;
    CHECK_FALSE(writer->append(message("2"), cap).has_value());
    std::this_thread::sleep_for(std::chrono::milliseconds{1500});  // it looks again each second
    CHECK(writer->health().failing);
    CHECK(changes == 1);
    writer->stop();
  }
  CHECK(reader.rows(1, 10).value().size() == 1);
}

TEST_CASE("what a row was made from goes along with it, and not with the row before") {
  const test::ScratchFolder folder;
  std::vector<JournalRow> handed_out;  // of the writer's thread until stop()
  auto writer = open_writer(folder / "a.db", {.on_rows =
                                                  [&](std::vector<JournalRow> rows) {
                                                    std::ranges::move(rows, std::back_inserter(handed_out));
                                                  },
                                              .on_outbox = {},
                                              .on_health = {}});
  auto entry = message("{}");
  entry.kind = RowKind::event;
  entry.shown_before = entry.message;
  const auto parsed = std::make_shared<const Event>();
  entry.parsed = parsed;
  REQUIRE(writer->append(entry, cap).has_value());
  writer->stop();
  REQUIRE(handed_out.size() == 2);
  CHECK(handed_out[0].parsed == nullptr);
  CHECK(handed_out[1].parsed == parsed);
  CHECK(row_of(open_reader(folder / "a.db"), 2).parsed == nullptr);
}

TEST_CASE("rows are handed out in order, without a hole, whoever wrote them") {
  const test::ScratchFolder folder;
  std::vector<JournalRow> handed_out;  // of the writer's thread until stop()
  std::atomic<int> answers = 0;
  auto writer = open_writer(folder / "a.db", {.on_rows =
                                                  [&](std::vector<JournalRow> rows) {
                                                    for (auto& row : rows) {
                                                      handed_out.push_back(std::move(row));
                                                    }
                                                  },
                                              .on_outbox = {},
                                              .on_health = {}});
  constexpr int threads = 4;
  constexpr int rows_each = 200;
  {
    std::vector<std::jthread> senders;
    senders.reserve(threads);
    for (int sender = 0; sender < threads; ++sender) {
      senders.emplace_back([&, sender] {
        for (int i = 0; i < rows_each; ++i) {
          const auto payload = std::to_string(sender) + ":" + std::to_string(i);
          if (i % 2 == 0) {
            REQUIRE(writer->append(message(payload), cap).has_value());
          } else {
            writer->append_async(message(payload), [&answers](const Result<Appended>& answer) {
              answers += answer.has_value() ? 1 : 0;
            });
          }
        }
      });
    }
  }
  writer->stop();
  CHECK(answers == threads * rows_each / 2);
  REQUIRE(handed_out.size() == threads * rows_each);
  std::vector<int> next(threads, 0);
  const auto on_disk = open_reader(folder / "a.db").rows(1, 10'000).value();
  REQUIRE(on_disk.size() == handed_out.size());
  for (std::size_t i = 0; i < handed_out.size(); ++i) {
    CHECK(handed_out[i].seq == static_cast<Seq>(i + 1));
    CHECK(handed_out[i].message.payload == on_disk[i].message.payload);
    const auto sender = static_cast<std::size_t>(handed_out[i].message.payload[0] - '0');
    CHECK(handed_out[i].message.payload.substr(2) == std::to_string(next[sender]++));
  }
}

TEST_CASE("what was shown before a deed stands right before it, or not at all") {
  const test::ScratchFolder folder;
  std::vector<JournalRow> handed_out;
  auto writer = open_writer(folder / "a.db", {.on_rows =
                                                  [&](std::vector<JournalRow> rows) {
                                                    for (auto& row : rows) {
                                                      handed_out.push_back(std::move(row));
                                                    }
                                                  },
                                              .on_outbox = {},
                                              .on_health = {}});
  auto deed = event("{}", "a key");
  deed.shown_before = RawMessage{.topic = "vehicle/4", .payload = "shown", .received_at = noon};
  REQUIRE(writer->append(message("1"), cap).has_value());
  CHECK(writer->append(deed, cap)->seq == 3);
  const auto again = writer->append(deed, cap);
  CHECK(again->repeated);
  CHECK(again->seq == 3);
  writer->stop();
  const auto rows = open_reader(folder / "a.db").rows(1, 10).value();
  REQUIRE(rows.size() == 3);
  REQUIRE(handed_out.size() == 3);
  for (const auto& all : {rows, handed_out}) {
    CHECK(all[1].kind == RowKind::shown);
    CHECK(all[1].seq == 2);
    CHECK(all[1].message.topic == "vehicle/4");
    CHECK(all[1].message.payload == "shown");
    CHECK(all[2].kind == RowKind::event);
  }
}

TEST_CASE("the answer comes after the row was handed out") {
  const test::ScratchFolder folder;
  std::vector<std::string> order;
  auto writer = open_writer(
      folder / "a.db",
      {.on_rows = [&](const auto&) { order.emplace_back("row"); }, .on_outbox = {}, .on_health = {}});
  writer->append_async(message("1"), [&](const Result<Appended>&) { order.emplace_back("answer"); });
  writer->stop();
  CHECK(order == std::vector<std::string>{"row", "answer"});
}

TEST_CASE("an event sent again with its key is the first one again") {
  const test::ScratchFolder folder;
  int handed_out = 0;
  auto writer = open_writer(
      folder / "a.db", {.on_rows = [&](const auto& rows) { handed_out += static_cast<int>(rows.size()); },
                        .on_outbox = {},
                        .on_health = {}});
  const auto first = writer->append(event("{}", "phone-1"), cap);
  const auto other = writer->append(event("{}", "phone-2"), cap);
  const auto again = writer->append(event("{}", "phone-1"), cap);
  REQUIRE(first.has_value());
  REQUIRE(other.has_value());
  REQUIRE(again.has_value());
  CHECK_FALSE(first->repeated);
  CHECK_FALSE(other->repeated);
  CHECK(again->repeated);
  CHECK(again->seq == first->seq);
  writer->stop();
  CHECK(handed_out == 2);
  // The keys are in the journal: a later start knows them too.
  const auto later = open_writer(folder / "a.db")->append(event("{}", "phone-2"), cap);
  REQUIRE(later.has_value());
  CHECK(later->repeated);
  CHECK(later->seq == other->seq);
}

TEST_CASE("effects are committed with the row that they follow from") {
  const test::ScratchFolder folder;
  std::atomic<int> outbox_calls = 0;
  auto writer =
      open_writer(folder / "a.db", {.on_rows = {}, .on_outbox = [&] { ++outbox_calls; }, .on_health = {}});
  Effects effects;
  effects.applied = 3;
  effects.readings = {reading(3, 21.5, noon)};
  effects.rejects = {{.seq = 3, .reject = {.why = RejectReason::not_json, .detail = "at 7"}}};
  effects.outgoing = {{.channel = "mail", .topic = "subject", .payload = "text"}};
  writer->commit(effects);
  writer->stop();
  CHECK(outbox_calls == 1);
  const auto reader = open_reader(folder / "a.db");
  CHECK(reader.applied().value() == 3);
  CHECK(Connection(folder / "a.db", Connection::Access::read_only).text("SELECT detail FROM reject") ==
        "at 7");
  CHECK(reader.pending("mail", 10).value().at(0).message.payload == "text");
  const auto readings =
      reader.readings("front-air", Quantity::air_temperature, noon - Millis{1}, noon).value();
  REQUIRE(readings.size() == 1);
  CHECK(readings[0].reading == effects.readings[0].reading);
}

TEST_CASE("effects told twice, as a replay tells them, change nothing") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  Effects effects;
  effects.applied = 3;
  effects.readings = {reading(3, 21.5, noon)};
  effects.rejects = {{.seq = 3, .reject = {.why = RejectReason::not_json, .detail = "at 7"}}};
  effects.alerts = {alert(AlertStep::raised, noon)};
  effects.outgoing = {{.channel = "mail", .topic = "subject", .payload = "text"}};
  writer->commit(effects);
  writer->commit(effects);
  effects.applied = 2;  // and what is applied never goes back
  writer->commit(effects);
  writer->stop();
  const auto reader = open_reader(folder / "a.db");
  for (const char* table : {"reading", "reject", "alert", "outbox"}) {
    CAPTURE(table);
    CHECK(rows_in(folder / "a.db", table) == 1);
  }
  CHECK(reader.applied().value() == 3);
}

TEST_CASE("a delivered message is not sent again by a replay") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  Effects effects;
  effects.outgoing = {{.channel = "mail", .topic = "subject", .payload = "text"}};
  writer->commit(effects);
  writer->mark({.id = 1, .step = OutboxStep::delivered, .next_at = {}, .why = {}});
  writer->commit(effects);
  writer->stop();
  CHECK(open_reader(folder / "a.db").pending("mail", 10).value().empty());
}

TEST_CASE("an alert keeps what is known of it when a restart raises it again") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  Effects effects;
  auto cleared = alert(AlertStep::cleared, noon);
  cleared.alert.cleared = noon + Millis{5'000};
  auto acknowledged = alert(AlertStep::acknowledged, noon);
  acknowledged.alert.acknowledged = noon + Millis{2'000};
  effects.alerts = {alert(AlertStep::raised, noon), acknowledged, cleared, alert(AlertStep::raised, noon),
                    alert(AlertStep::raised, noon + Millis{60'000})};
  writer->commit(effects);
  writer->stop();
  const auto history =
      open_reader(folder / "a.db").alerts_raised(noon - Millis{1}, noon + Millis{100'000}).value();
  REQUIRE(history.size() == 2);
  CHECK(history[0].raised == noon + Millis{60'000});
  CHECK_FALSE(history[0].cleared);
  CHECK(history[1].cleared == cleared.alert.cleared);
  CHECK(history[1].acknowledged == acknowledged.alert.acknowledged);
  CHECK(history[1].level == AlertLevel::urgent);
}

TEST_CASE("of a retained topic only the newest message waits") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  for (const char* payload : {"a", "b", "a"}) {
    Effects effects;
    effects.outgoing = {{.channel = "mqtt", .topic = "vehicle/1", .payload = payload, .retained = true},
                        {.channel = "mqtt", .topic = "vehicle/2", .payload = payload, .retained = true}};
    writer->commit(effects);
  }
  writer->stop();
  const auto pending = open_reader(folder / "a.db").pending("mqtt", 10).value();
  REQUIRE(pending.size() == 2);
  CHECK(pending[0].id == 5);  // a new number: a mark for the one it replaced must not hit it
  CHECK(pending[0].message.payload == "a");
  CHECK(pending[1].message.topic == "vehicle/2");
}

TEST_CASE("marks say what became of a message") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  Effects effects;
  for (const char* payload : {"1", "2", "3"}) {
    effects.outgoing.push_back({.channel = "mail", .topic = "t", .payload = payload});
  }
  writer->commit(effects);
  writer->mark({.id = 1, .step = OutboxStep::delivered, .next_at = {}, .why = {}});
  writer->mark({.id = 2, .step = OutboxStep::failed, .next_at = noon, .why = "no route"});
  writer->mark({.id = 3, .step = OutboxStep::given_up, .next_at = {}, .why = "no route"});
  writer->stop();
  const auto pending = open_reader(folder / "a.db").pending("mail", 10).value();
  REQUIRE(pending.size() == 1);
  CHECK(pending[0].id == 2);
  CHECK(pending[0].attempts == 1);
  CHECK(pending[0].next_at == noon);
}

TEST_CASE("messages for a channel that is gone from the configuration are given up") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  Effects effects;
  effects.outgoing = {{.channel = "old", .topic = "t", .payload = "p"},
                      {.channel = "mail", .topic = "t", .payload = "p"}};
  writer->commit(effects);
  writer->keep_channels({"mail", "mqtt"});
  writer->stop();
  const auto reader = open_reader(folder / "a.db");
  CHECK(reader.pending("old", 10).value().empty());
  CHECK(reader.pending("mail", 10).value().size() == 1);
}

TEST_CASE("one item with an impossible value does not hold up the others") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  Effects bad;
  bad.applied = 1;
  bad.readings = {reading(1, 21.5, noon),
                  reading(1, std::numeric_limits<double>::quiet_NaN(), noon + Millis{1})};
  Effects good;
  good.applied = 2;
  good.readings = {reading(2, 21.6, noon + Millis{2})};
  writer->commit(bad);
  writer->commit(good);
  REQUIRE(writer->append(message("1"), cap).has_value());
  CHECK_FALSE(writer->health().failing);
  writer->stop();
  const auto reader = open_reader(folder / "a.db");
  const auto readings =
      reader.readings("front-air", Quantity::air_temperature, noon - Millis{1}, noon + Millis{9}).value();
  REQUIRE(readings.size() == 1);  // the bad item left none of its rows behind
  CHECK(readings[0].seq == 2);
  CHECK(reader.applied().value() == 2);
}

TEST_CASE("a row whose cap ran out while it was queued is withdrawn") {
  const test::ScratchFolder folder;
  std::promise<void> entered;
  std::promise<void> leave;
  auto held = leave.get_future();
  bool first = true;
  auto writer = open_writer(folder / "a.db", {.on_rows =
                                                  [&](const auto&) {
                                                    if (std::exchange(first, false)) {
                                                      entered.set_value();
                                                      held.wait();
                                                    }
                                                  },
                                              .on_outbox = {},
                                              .on_health = {}});
  writer->append_async(message("first"), [](const Result<Appended>&) {});
  entered.get_future().wait();
  CHECK_FALSE(writer->append(message("too late"), Millis{20}).has_value());
  leave.set_value();
  REQUIRE(writer->append(message("second"), cap).has_value());
  writer->stop();
  const auto rows = open_reader(folder / "a.db").rows(1, 10).value();
  REQUIRE(rows.size() == 2);
  CHECK(rows[1].message.payload == "second");
}

TEST_CASE("stop writes what is queued and leaves no write-ahead log behind") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  std::atomic<int> kept = 0;
  for (int i = 0; i < 500; ++i) {
    writer->append_async(message("x"),
                         [&](const Result<Appended>& answer) { kept += answer.has_value() ? 1 : 0; });
  }
  writer->stop();
  CHECK(kept == 500);
  CHECK_FALSE(std::filesystem::exists((folder / "a.db").string() + "-wal"));
  CHECK(Reader::open(folder / "a.db").value().extent().value().last == 500);
}

TEST_CASE("each start is a session of its own") {
  const test::ScratchFolder folder;
  for (int i = 0; i < 2; ++i) {
    auto writer = open_writer(folder / "a.db");
    REQUIRE(writer->append(message("x"), cap).has_value());
  }
  CHECK(rows_in(folder / "a.db", "session") == 2);
}

}  // namespace
}  // namespace dryclock::store
