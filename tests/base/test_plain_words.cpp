#include "base/plain_words.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace dryclock {

using namespace std::chrono_literals;

TEST_CASE("spans of time as people say them") {
  CHECK(span(0min) == "0 min");
  CHECK(span(59min + 59s) == "59 min");
  CHECK(span(1h) == "1 h");
  CHECK(span(2h + 10min) == "2 h 10 min");
  CHECK(span(24h) == "1 day");
  CHECK(span(25h + 30min) == "1 day 1 h");
  CHECK(span(76h + 5min) == "3 days 4 h");
}

TEST_CASE("what was a moment ago is told in seconds") {
  CHECK(short_span(1'999ms) == "1 s");
  CHECK(short_span(119s) == "119 s");
  CHECK(short_span(120s) == "2 min");
  CHECK(short_span(26h) == "1 day 2 h");
}

TEST_CASE("shares in percent") {
  CHECK(percent(0.873) == "87 %");
  CHECK(percent(0.873, 1) == "87.3 %");
  CHECK(percent(1.0) == "100 %");
  CHECK(percent(NAN) == "-");
}

}  // namespace dryclock
