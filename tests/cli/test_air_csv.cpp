#include "cli/air_csv.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace dryclock;
using cli::AirAt;

namespace {

std::vector<AirAt> sound(std::string_view text) {
  config::Problems problems;
  auto rows = cli::parse_air_csv(text, "n.csv", problems);
  CHECK(problems.empty());
  return rows;
}

std::string first_problem(std::string_view text) {
  config::Problems problems;
  (void)cli::parse_air_csv(text, "n.csv", problems);
  return problems.empty() ? "" : to_string(problems.sorted().front());
}

}  // namespace

TEST_CASE("hours from the start, columns in any order, remarks and Windows line ends") {
  CHECK(sound("\xEF\xBB\xBFtime,air_c,rh_pct\n0,21,50\n").size() == 1);  // as a spreadsheet saves it
  const auto rows = sound("# a night\r\nrh_pct, time ,air_c\r\n50,0,21\r\n\r\n60, 1.5, 20.5\r\n");
  REQUIRE(rows.size() == 2);
  CHECK(rows[1].hours == 1.5);
  CHECK(rows[1].air_c == 20.5);
  CHECK(rows[1].rh_pct == 60.0);
  CHECK(std::isnan(rows[1].panel_c));
}

TEST_CASE("RFC 3339 counts from the first row, whatever the offsets") {
  const auto rows =
      sound("time,air_c,rh_pct,panel_c\n2026-11-01T23:00:00Z,16,58,15\n2026-11-02T01:30:00+01:00,15,60,\n");
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].hours == 0.0);
  CHECK(rows[0].panel_c == 15.0);
  CHECK(rows[1].hours == doctest::Approx(1.5));
  CHECK(std::isnan(rows[1].panel_c));
}

TEST_CASE("mistakes, by line and column") {
  CHECK(first_problem("time,air,rh_pct\n") == "n.csv:1:1: column air_c is missing");
  CHECK(first_problem("time,air_c,rh_pct,pannel_c\n0,1,2,3\n") ==
        "n.csv:1:19: unknown column \"pannel_c\", did you mean \"panel_c\"?");
  CHECK(first_problem("time,air_c,rh_pct\n0,21\n") == "n.csv:2:1: 2 values stand under 3 columns");
  CHECK(first_problem("time,air_c,rh_pct\n0,warm,50\n") == "n.csv:2:3: air_c: \"warm\" is no number");
  CHECK(first_problem("time,air_c,rh_pct\n0,nan,50\n") == "n.csv:2:3: air_c: nan is outside -40 to 120");
  CHECK(first_problem("time,air_c,rh_pct\n0,21,101\n") == "n.csv:2:6: rh_pct: 101 is outside 0 to 100");
  CHECK(first_problem("time,air_c,rh_pct\n0,21,50\n0,21,50\n") == "n.csv:3:1: time does not rise");
  CHECK(first_problem("time,air_c,rh_pct\nsoon,21,50\n") ==
        "n.csv:2:1: time: \"soon\" is neither hours nor RFC 3339");
  CHECK(first_problem("time,air_c,rh_pct\n0,21,50\n2026-11-01T23:00:00Z,21,50\n") ==
        "n.csv:3:1: time: hours and RFC 3339 are mixed");
  CHECK(first_problem("time,air_c,rh_pct\n2026-11-01T23:00:00Z,21,50\n1,21,50\n") ==
        "n.csv:3:1: time: hours and RFC 3339 are mixed");
  CHECK(first_problem("time,air_c,rh_pct,air_c\n0,21,50,22\n") == "n.csv:1:19: column air_c stands twice");
  CHECK(first_problem("time,air_c,rh_pct\n") == "n.csv: no row of air in this file");
  CHECK(first_problem("") == "n.csv: no row of air in this file");
}
