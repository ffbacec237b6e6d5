#include <doctest/doctest.h>

#include "app/quiet_hours.hpp"
#include "app/times.hpp"

namespace dryclock::app {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

QuietTimes quiet(const char* zone, minutes from, minutes to) {
  return {QuietHours{from, to}, LocalZone::find(zone).value()};
}
// "from to", in UTC; empty: not quiet.
std::string at(const QuietTimes& times, const char* t) {
  const auto span = times.at(utc(t));
  return span ? to_rfc3339(span->from) + " " + to_rfc3339(span->to) : std::string{};
}

}  // namespace

TEST_CASE("quiet from 22:00 to 06:30: held from the first moment to the last, over midnight") {
  const auto times = quiet("UTC", hours{22}, hours{6} + minutes{30});
  CHECK(at(times, "2026-03-02T21:59:59Z").empty());
  const std::string night = "2026-03-02T22:00:00.000Z 2026-03-03T06:30:00.000Z";
  CHECK(at(times, "2026-03-02T22:00:00Z") == night);
  CHECK(at(times, "2026-03-03T00:00:00Z") == night);
  CHECK(at(times, "2026-03-03T06:29:59Z") == night);
  CHECK(at(times, "2026-03-03T06:30:00Z").empty());
  CHECK(times.ended_before(utc("2026-03-03T06:30:00Z"))->to == utc("2026-03-03T06:30:00Z"));
  CHECK(times.ended_before(utc("2026-03-03T06:29:59Z"))->to == utc("2026-03-02T06:30:00Z"));
}

TEST_CASE("quiet within a day") {
  const auto times = quiet("UTC", hours{12}, hours{13});
  CHECK(at(times, "2026-03-02T12:30:00Z") == "2026-03-02T12:00:00.000Z 2026-03-02T13:00:00.000Z");
  CHECK(at(times, "2026-03-02T23:00:00Z").empty());
  CHECK(times.ended_before(utc("2026-03-02T12:30:00Z"))->to == utc("2026-03-01T13:00:00Z"));
}

TEST_CASE("without quiet hours nothing waits") {
  const QuietTimes none{std::nullopt, LocalZone::find("UTC").value()};
  CHECK_FALSE(none.at(utc("2026-03-02T03:00:00Z")));
  CHECK_FALSE(none.ended_before(utc("2026-03-02T03:00:00Z")));
}

// IANA time zone data: in Europe/London the clocks went from 01:00 GMT to 02:00 BST on 2026-03-29, and go
// from 02:00 BST to 01:00 GMT on 2026-10-25; in America/New_York on 2026-03-08 and 2026-11-01, at 02:00 local
// time.
TEST_CASE("the night that is an hour shorter, and the one that is an hour longer") {
  const auto london = quiet("Europe/London", hours{22}, hours{6} + minutes{30});
  CHECK(at(london, "2026-03-29T03:00:00Z") ==
        "2026-03-28T22:00:00.000Z 2026-03-29T05:30:00.000Z");  // 7 h 30 min
  CHECK(at(london, "2026-10-25T03:00:00Z") ==
        "2026-10-24T21:00:00.000Z 2026-10-25T06:30:00.000Z");  // 9 h 30 min
  const auto york = quiet("America/New_York", hours{22}, hours{6} + minutes{30});
  CHECK(at(york, "2026-03-08T07:00:00Z") == "2026-03-08T03:00:00.000Z 2026-03-08T10:30:00.000Z");
  CHECK(at(york, "2026-11-01T07:00:00Z") == "2026-11-01T02:00:00.000Z 2026-11-01T11:30:00.000Z");
}

TEST_CASE("quiet hours that end where the clocks skip, or in the hour that comes twice") {
  const auto times = quiet("Europe/London", hours{22}, hours{1} + minutes{30});
  // 01:30 is not on the clock that night: the first moment after the gap.
  CHECK(at(times, "2026-03-29T00:59:59Z") == "2026-03-28T22:00:00.000Z 2026-03-29T01:00:00.000Z");
  CHECK(at(times, "2026-03-29T01:00:00Z").empty());
  // 01:30 comes twice: the first ends it, and the second hour is not quiet again.
  CHECK(at(times, "2026-10-25T00:29:59Z") == "2026-10-24T21:00:00.000Z 2026-10-25T00:30:00.000Z");
  CHECK(at(times, "2026-10-25T00:45:00Z").empty());
  CHECK(at(times, "2026-10-25T01:15:00Z").empty());
}

}  // namespace dryclock::app
