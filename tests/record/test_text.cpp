#include "record/text.hpp"

#include <doctest/doctest.h>

#include <cmath>

namespace dryclock::record {

TEST_CASE("numbers") {
  CHECK(number(22.75) == "22.75");
  CHECK(number(5e-14) == "5e-14");
  CHECK(number(NAN).empty());
  CHECK(fixed(87.34, 1) == "87.3");
  CHECK(fixed(-0.04, 1) == "0.0");
  CHECK(fixed(-0.06, 1) == "-0.1");
  CHECK(fixed(INFINITY, 1) == "-");
  CHECK(percent(0.873) == "87.3 %");
}

TEST_CASE("spans") {
  using namespace std::chrono_literals;
  CHECK(span(59min) == "59 min");
  CHECK(span(2h + 10min) == "2 h 10 min");
  CHECK(span(3h) == "3 h");
  CHECK(span(76h) == "3 d 4 h");
}

TEST_CASE("CSV fields are quoted as RFC 4180 has it") {
  CHECK(csv_field("plain words") == "plain words");
  CHECK(csv_field("a,b") == "\"a,b\"");
  CHECK(csv_field("a \"b\"") == "\"a \"\"b\"\"\"");
  CHECK(csv_field("two\nlines") == "\"two\nlines\"");
}

}  // namespace dryclock::record
