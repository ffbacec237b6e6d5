#include "ingest/number.hpp"

#include <doctest/doctest.h>

using namespace dryclock;
using ingest::instant_in;
using ingest::number_in;

TEST_CASE("a number stands alone, with blanks around it and perhaps a plus") {
  for (const auto* text : {"4.5", " 4.5\n", "\t+4.5\r\n", "45e-1", "4.50"}) {
    CAPTURE(text);
    REQUIRE(number_in(text).has_value());
    CHECK(*number_in(text) == 4.5);
  }
  CHECK(*number_in("-4.5") == -4.5);
  for (const auto* text : {"", " ", "+", "-", "+-5", "++5", "4,5", "4.5 C", "0x15", "4.5e"}) {
    CAPTURE(text);
    REQUIRE_FALSE(number_in(text).has_value());
    CHECK(number_in(text).error() == RejectReason::not_a_number);
  }
  for (const auto* text : {"nan", "-inf", "1e400"}) {
    CAPTURE(text);
    REQUIRE_FALSE(number_in(text).has_value());
    CHECK(number_in(text).error() == RejectReason::not_finite);
  }
}

// date -u -d @1772395170
TEST_CASE("seconds and milliseconds since 1970 are told apart") {
  const auto at = parse_rfc3339("2026-03-01T19:59:30Z").value();
  CHECK(instant_in(1772395170.0) == at);
  CHECK(instant_in(1772395170.25) == at + Millis{250});
  CHECK(instant_in(1772395170000.0) == at);
  CHECK(instant_in(0.0) == from_unix_ms(0));
  CHECK_FALSE(instant_in(1e300));
  CHECK_FALSE(instant_in(-1e15));
}
