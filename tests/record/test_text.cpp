#include "record/text.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "support/csv.hpp"

namespace dryclock::record {

TEST_CASE("numbers") {
  CHECK(number(22.75) == "22.75");
  CHECK(number(5e-14) == "5e-14");
  CHECK(number(NAN).empty());
  CHECK(number_in_print(22.75, ".") == "22.75");
  CHECK(number_in_print(22.75, ",") == "22,75");
  CHECK(number_in_print(5e-14, ".") ==
        "5\xC2\xA0\xC3\x97\xC2\xA0"
        "10\xE2\x81\xBB\xC2\xB9\xE2\x81\xB4");
  CHECK(number_in_print(-4.32e9, ".") ==
        "-4.32\xC2\xA0\xC3\x97\xC2\xA0"
        "10\xE2\x81\xB9");
  CHECK(fixed(87.34, 1) == "87.3");
  CHECK(fixed(-0.04, 1) == "0.0");
  CHECK(fixed(-0.06, 1) == "-0.1");
  CHECK(fixed(INFINITY, 1) == "-");
}

TEST_CASE("CSV fields are quoted as RFC 4180 has it") {
  CHECK(csv_field("plain words") == "plain words");
  CHECK(csv_field("a,b") == "\"a,b\"");
  CHECK(csv_field("a \"b\"") == "\"a \"\"b\"\"\"");
  CHECK(csv_field("two\nlines") == "\"two\nlines\"");
  const std::vector<std::string> some{"a \"b\", c", "", "25 \xC2\xB0\x43"};
  CHECK(test::cells_of(csv_field(some[0]) + "," + some[1] + "," + csv_field(some[2])) == some);
}

}  // namespace dryclock::record
