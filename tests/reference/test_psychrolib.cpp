// Moist air against the npm package psychrolib, run when this was built (see CMakeLists.txt).
#include <doctest/doctest.h>

#include <fstream>
#include <iostream>
#include <string>
#include <vector>

#include "models/humid_air.hpp"
#include "support/csv.hpp"

using namespace dryclock::models;

namespace {

std::vector<std::vector<double>> grid() {
  std::ifstream file{PSYCHROLIB_GRID};
  std::vector<std::vector<double>> rows;
  std::string line;
  while (std::getline(file, line)) {
    if (line.rfind("skipped", 0) == 0) {
      std::cout << "SKIPPED: psychrolib: " << line << '\n';
      return {};
    }
    std::vector<double> row;
    for (const auto& cell : dryclock::test::cells_of(line)) {
      row.push_back(std::stod(cell));
    }
    rows.push_back(row);
  }
  REQUIRE(rows.size() > 3000);
  return rows;
}

}  // namespace

TEST_SUITE_BEGIN("reference");

TEST_CASE(
    "[PsychroLib: live, 161 temperatures x 20 humidities] saturation, vapour, dew point and humidity ratio") {
  for (const auto& row : grid()) {
    const Celsius air{row[0]};
    const Humidity humidity{row[1]};
    CAPTURE(row[0]);
    CAPTURE(row[1]);
    // At and below 0.01 C that library means ice.
    const bool ice = row[0] <= 0.01;
    const Pascal saturation = ice ? saturation_pressure_ice(air) : saturation_pressure(air);
    CHECK(saturation.value() == doctest::Approx(row[2]).epsilon(1e-9).scale(0.0));
    CHECK((saturation * humidity.value()).value() == doctest::Approx(row[3]).epsilon(1e-9).scale(0.0));
    CHECK(humidity_ratio(saturation * humidity.value()) == doctest::Approx(row[5]).epsilon(1e-6).scale(0.0));
    // Its dew point is found to 1 mK by iteration, and jumps between ice and water at 0.01 C.
    const double dew = row[4];
    if (dew > 0.05) {
      CHECK(dew_point(saturation * humidity.value()).value() ==
            doctest::Approx(dew).epsilon(2e-3).scale(1.0));
    } else if (dew < -0.05 && dew > coldest.value() + 0.1) {
      CHECK(frost_point(saturation * humidity.value()).value() ==
            doctest::Approx(dew).epsilon(2e-3).scale(1.0));
    }
  }
}

TEST_SUITE_END();
