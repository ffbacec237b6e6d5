#include <doctest/doctest.h>

#include <bit>
#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <random>

#include "wire/json_writer.hpp"

namespace dryclock::wire {
namespace {

template <class T>
std::string written(const T& value) {
  JsonWriter json;
  json.value(value);
  return std::move(json).text();
}

}  // namespace

TEST_CASE("numbers look as people write them") {
  CHECK(written(22.75) == "22.75");
  CHECK(written(0.1) == "0.1");
  CHECK(written(-3.0) == "-3");
  CHECK(written(0.0) == "0");
  CHECK(written(std::int64_t{9007199254740993}) == "9007199254740993");
  CHECK(written(std::numeric_limits<double>::quiet_NaN()) == "null");
  CHECK(written(std::numeric_limits<double>::infinity()) == "null");
}

TEST_CASE("numbers read back the same [strtod of the C library as the outside reader]") {
  std::mt19937_64 draw{20260307};
  for (int i = 0; i < 20'000; ++i) {
    const double number = std::bit_cast<double>(draw());
    if (std::isfinite(number)) {
      CHECK(std::strtod(written(number).c_str(), nullptr) == number);
    }
  }
}

TEST_CASE("text is quoted, and mended where it is not UTF-8 [Boost.JSON as the outside reader]") {
  CHECK(written("a\"b\\c\n\t\x01") == R"("a\"b\\c\n\u0009\u0001")");
  CHECK(written("Gänsefuß 🚗") == "\"Gänsefuß 🚗\"");
  const std::string mended = "\xEF\xBF\xBD";
  CHECK(written("a\xff!") == "\"a" + mended + "!\"");
  CHECK(written("\xc0\xaf") == "\"" + mended + mended + "\"");               // overlong '/'
  CHECK(written("\xed\xa0\x80") == "\"" + mended + mended + mended + "\"");  // a surrogate
  CHECK(written("\xf4\x90\x80\x80").size() == 2 + 4 * mended.size());        // beyond U+10FFFF
  CHECK(written("\xe2\x82") == "\"" + mended + mended + "\"");               // cut short
  std::mt19937 draw{7};
  for (int i = 0; i < 5'000; ++i) {
    std::string bytes;
    for (auto n = draw() % 24; n > 0; --n) {
      bytes += static_cast<char>(draw());
    }
    boost::system::error_code error;
    boost::json::parse(written(bytes), error);
    CHECK_FALSE(error);
  }
}

TEST_CASE("commas stand between, and only between") {
  JsonWriter json;
  json.begin_object();
  json.field("a", 1);
  json.key("b");
  json.begin_array();
  json.value("x,");
  json.begin_object();
  json.end_object();
  json.null();
  json.end_array();
  json.field("c", true);
  json.field("d", std::optional<double>{});
  json.end_object();
  CHECK(std::move(json).text() == R"({"a":1,"b":["x,",{},null],"c":true,"d":null})");
}

}  // namespace dryclock::wire
