#include <doctest/doctest.h>

#include <deque>

#include "app/core.hpp"
#include "support/said.hpp"
#include "support/small_shop.hpp"

namespace dryclock::app {
namespace {

const Time noon = parse_rfc3339("2026-03-02T12:00:00Z").value();

// A core whose rows the test writes.
struct LoneCore {
  std::deque<store::Entry> asked;
  Core core{ClockSource::system, support::words(),
            Publisher{{}, QuietTimes{{}, LocalZone::find("UTC").value()}},
            CorePorts{.commit = [](const Effects&) {},
                      .append = [this](store::Entry entry,
                                       const store::AppendDone&) { asked.push_back(std::move(entry)); },
                      .look_ahead = [](const OutlookTask&) {},
                      .keeps_personal = [](VehicleId) { return false; },
                      .board_changed = [] {},
                      .wall_clock = [] { return noon; },
                      .heard = [](const JournalRow&, const std::vector<Reading>&) {}}};
  LoneCore() { core.assume(Configured{"test", "", true, {}, support::small_shop()}); }

  // The row that an arrival asks for.
  JournalRow arrival() {
    core.submit(R"({"what":"vehicle-in","reference":"grey van","bay":"front","panel_c":8.5})", noon,
                [](const http::SubmitAnswer&) {});
    REQUIRE(asked.size() == 1);
    return {.seq = 1, .kind = asked[0].kind, .message = asked[0].message, .parsed = asked[0].parsed};
  }
  [[nodiscard]] std::string reference() const {
    const auto vehicle = core.engine().vehicle(1);
    return vehicle ? vehicle->reference : "";
  }
};

TEST_CASE("an event that came in just now is not read again from its row") {
  LoneCore shop;
  auto row = shop.arrival();
  row.message.payload = "nobody looks at it";
  shop.core.apply(row);
  CHECK(shop.reference() == "grey van");
}

TEST_CASE("a row that the journal gives is read") {
  auto row = LoneCore{}.arrival();
  row.parsed.reset();
  LoneCore again;
  again.core.replay(row);
  CHECK(again.reference() == "grey van");
  row.message.payload = "nobody can read it";
  LoneCore other;
  other.core.replay(row);
  CHECK(other.reference().empty());
}

TEST_CASE("what travels with a row has its number and time from the row") {
  LoneCore shop;
  auto row = shop.arrival();
  row.message.received_at += std::chrono::minutes{1};
  shop.core.apply(row);
  const auto events = shop.core.engine().events(1);
  REQUIRE(events.size() == 1);
  CHECK(events[0].seq == 1);
  CHECK(events[0].entered == noon + std::chrono::minutes{1});
  CHECK(events[0].at == noon);
}

}  // namespace
}  // namespace dryclock::app
