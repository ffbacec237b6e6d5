#include "base/time.hpp"

#include <doctest/doctest.h>

namespace dryclock {

// The examples of RFC 3339 section 5.8; seconds since 1970 by `date --utc +%s` of GNU coreutils.
TEST_CASE("a time is read as its standard's examples are meant (RFC 3339, 5.8)") {
  CHECK(parse_rfc3339("1985-04-12T23:20:50.52Z").value() == from_unix_ms(482'196'050'520));
  CHECK(parse_rfc3339("1996-12-19T16:39:57-08:00").value() == from_unix_ms(851'042'397'000));
  CHECK(parse_rfc3339("1990-12-31T23:59:60Z").value() == from_unix_ms(662'688'000'000));  // a leap second
  CHECK(parse_rfc3339("1990-12-31T15:59:60-08:00").value() == from_unix_ms(662'688'000'000));
  CHECK(parse_rfc3339("1937-01-01T12:00:27.87+00:20").value() == from_unix_ms(-1'041'337'172'130));
}

TEST_CASE("other forms of a time: small letters, a space, without seconds, more digits than are kept") {
  const Time t = from_unix_ms(1'772'374'800'000);  // 2026-03-01 14:20 UTC
  CHECK(parse_rfc3339("2026-03-01t14:20:00z").value() == t);
  CHECK(parse_rfc3339("2026-03-01 14:20:00Z").value() == t);
  CHECK(parse_rfc3339("2026-03-01T14:20Z").value() == t);
  CHECK(parse_rfc3339("2026-03-01T15:20+01:00").value() == t);
  CHECK(parse_rfc3339("2026-03-01T14:20:00.0009Z").value() == t);
  CHECK(parse_rfc3339("2026-03-01T14:20:00.1Z").value() == t + Millis{100});
}

TEST_CASE("what is no time is refused") {
  for (const auto* wrong :
       {"", "soon", "2026-03-01", "2026-03-01T14:20:00", "2026-02-29T00:00:00Z", "2026-13-01T00:00:00Z",
        "2026-00-01T00:00:00Z", "2026-03-00T00:00:00Z", "2026-03-01T24:00:00Z", "2026-03-01T14:60:00Z",
        "2026-03-01T14:20:61Z", "2026-03-01T14:20:00.Z", "2026-03-01T14:20:00+24:00",
        "2026-03-01T14:20:00+01:60", "2026-03-01T14:20:00+0100", "2026-03-01T14:20:00Z ",
        "26-03-01T14:20:00Z", "+026-03-01T14:20:00Z", "2026-3-1T14:20:00Z"}) {
    CAPTURE(wrong);
    const auto read = parse_rfc3339(wrong);
    REQUIRE_FALSE(read.has_value());
    CHECK(read.error().what.find(wrong) != std::string::npos);
  }
}

TEST_CASE("a time is written in UTC with milliseconds, and reads back") {
  for (const auto* text : {"2026-03-01T14:20:00.000Z", "1969-12-31T23:59:59.999Z", "2024-02-29T00:00:00.001Z",
                           "0001-01-01T00:00:00.000Z", "9999-12-31T23:59:59.000Z"}) {
    CHECK(to_rfc3339(parse_rfc3339(text).value()) == text);
  }
}

}  // namespace dryclock
