#include <doctest/doctest.h>

#include "base/local_time.hpp"

namespace dryclock {
namespace {

Time utc(const char* text) {
  return parse_rfc3339(text).value();
}

// Summer time in the EU ends and begins at 01:00 UTC on the last Sundays of October and March: Directive
// 2000/84/EC, articles 2 and 3. In 2026 these are the 25th and the 29th.
TEST_CASE("a local time is one instant, or is asked about") {
  const auto zone = LocalZone::find("Europe/Berlin").value();
  const Time near = utc("2026-10-24T12:00:00Z");
  CHECK(zone.parse("2026-10-25 01:59", near).value() == utc("2026-10-24T23:59:00Z"));
  CHECK(zone.parse("2026-10-25 03:00", near).value() == utc("2026-10-25T02:00:00Z"));
  CHECK(zone.parse("07:40", near).value() == utc("2026-10-24T05:40:00Z"));

  const auto twice = zone.parse("2026-10-25 02:30", near);
  REQUIRE_FALSE(twice.has_value());
  CHECK(twice.error().what ==
        "'2026-10-25 02:30' comes twice that night: write 2026-10-25T02:30+02:00 for the first, "
        "2026-10-25T02:30+01:00 for the second");
  CHECK(zone.parse("2026-10-25T02:30+01:00", near).value() == utc("2026-10-25T01:30:00Z"));

  const auto never = zone.parse("2026-03-29 02:30", near);
  REQUIRE_FALSE(never.has_value());
  CHECK(never.error().what ==
        "'2026-03-29 02:30' does not exist: that night the clocks go from 02:00 to 03:00");
}

TEST_CASE("west of Greenwich the offset is written with its minus") {
  const auto twice = LocalZone::find("America/St_Johns").value().parse("2026-11-01 01:30", Time{});
  REQUIRE_FALSE(twice.has_value());
  CHECK(twice.error().what.find("2026-11-01T01:30-02:30 for the first, 2026-11-01T01:30-03:30") !=
        std::string::npos);
}

}  // namespace
}  // namespace dryclock
