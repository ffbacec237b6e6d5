// Humidity fixed points and solvent vapour against their sources.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "models/salts.hpp"
#include "models/solvent.hpp"
#include "reference_file.hpp"

using namespace dryclock::models;
using dryclock::models::testing::reference_rows;

TEST_SUITE_BEGIN("published");

TEST_CASE("[OIML-R121: Table 1] fixed points as printed, %RH at 20, 25 and 30 C") {
  struct Row {
    Salt salt;
    std::array<double, 3> percent;
  };
  for (const auto& row :
       {Row{Salt::lithium_chloride, {12, 11.3, 11.3}}, Row{Salt::magnesium_chloride, {33.1, 32.8, 32.4}},
        Row{Salt::potassium_carbonate, {43.2, 43.2, 43.2}}, Row{Salt::sodium_chloride, {75.5, 75.3, 75.1}},
        Row{Salt::potassium_chloride, {85.1, 84.2, 83.6}},
        Row{Salt::potassium_sulphate, {97.6, 97.3, 97.0}}}) {
    for (std::size_t i = 0; i < 3; ++i) {
      const Celsius t{20.0 + 5.0 * static_cast<double>(i)};
      CHECK(oiml_fixed_point(row.salt, t)->humidity.value() * 100 == doctest::Approx(row.percent[i]));
    }
  }
}

// Between the table's temperatures: a straight line, and the larger uncertainty of the two.
TEST_CASE("[OIML-R121: Table 1] half way between its rows, reference file") {
  constexpr std::array<std::pair<Salt, std::size_t>, 6> columns{{{Salt::lithium_chloride, 1},
                                                                 {Salt::magnesium_chloride, 4},
                                                                 {Salt::potassium_carbonate, 6},
                                                                 {Salt::sodium_chloride, 8},
                                                                 {Salt::potassium_chloride, 10},
                                                                 {Salt::potassium_sulphate, 12}}};
  const auto rows = reference_rows("oiml_r121_table1.csv");
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const auto &before = rows[i - 1], &after = rows[i];
    const Celsius middle{0.5 * (std::stod(before[0]) + std::stod(after[0]))};
    CAPTURE(middle.value());
    for (const auto& [salt, column] : columns) {
      if (after[column].empty()) continue;
      const auto point = oiml_fixed_point(salt, middle);
      REQUIRE(point);
      CHECK(point->humidity.value() * 100 ==
            doctest::Approx(0.5 * (std::stod(before[column]) + std::stod(after[column]))));
      if (column > 1) {
        CHECK(point->expanded * 100 ==
              doctest::Approx(std::max(std::stod(before[column + 1]), std::stod(after[column + 1]))));
      }
    }
  }
}

TEST_CASE("[OIML-R121: Table 1] the whole table, reference file") {
  constexpr std::array<std::pair<Salt, std::size_t>, 5> columns{{{Salt::magnesium_chloride, 4},
                                                                 {Salt::potassium_carbonate, 6},
                                                                 {Salt::sodium_chloride, 8},
                                                                 {Salt::potassium_chloride, 10},
                                                                 {Salt::potassium_sulphate, 12}}};
  for (const auto& row : reference_rows("oiml_r121_table1.csv")) {
    const Celsius t{std::stod(row[0])};
    CAPTURE(row[0]);
    for (const auto& [salt, column] : columns) {
      const auto point = oiml_fixed_point(salt, t);
      REQUIRE(point.has_value() == !row[column].empty());
      if (point) {
        CHECK(point->humidity.value() * 100 == doctest::Approx(std::stod(row[column])));
        CHECK(point->expanded * 100 == doctest::Approx(std::stod(row[column + 1])));
      }
    }
    const auto lithium = oiml_fixed_point(Salt::lithium_chloride, t);
    REQUIRE(lithium);
    CHECK(lithium->humidity.value() * 100 == doctest::Approx(std::stod(row[1])));
    if (row[3].empty()) {
      CHECK(lithium->expanded * 100 == doctest::Approx(std::stod(row[2])));
    } else {  // a printed range: the uncertainty is its wider side
      const double wider =
          std::max(std::stod(row[1]) - std::stod(row[2]), std::stod(row[3]) - std::stod(row[1]));
      CHECK(lithium->expanded * 100 == doctest::Approx(wider));
    }
  }
}

TEST_CASE("[Greenspan1977: Table 2] his polynomials give his table (from memory)") {
  struct Row {
    Salt salt;
    double celsius, percent;
  };
  // Printed to 0.01 %RH.
  for (const auto& row : {Row{Salt::sodium_chloride, 10, 75.67}, Row{Salt::sodium_chloride, 25, 75.29},
                          Row{Salt::sodium_chloride, 30, 75.09}, Row{Salt::magnesium_chloride, 10, 33.47},
                          Row{Salt::magnesium_chloride, 25, 32.78}, Row{Salt::magnesium_chloride, 30, 32.44},
                          Row{Salt::potassium_chloride, 10, 86.77}, Row{Salt::potassium_chloride, 25, 84.34},
                          Row{Salt::potassium_chloride, 30, 83.62}}) {
    CAPTURE(row.celsius);
    CHECK(std::abs(greenspan_fixed_point(row.salt, Celsius{row.celsius})->humidity.value() * 100 -
                   row.percent) < 0.01);
  }
}

TEST_CASE("[Greenspan1977: eq 1] agrees with OIML within the two uncertainties") {
  for (const Salt salt : {Salt::magnesium_chloride, Salt::sodium_chloride, Salt::potassium_chloride}) {
    for (const double t : {10.0, 15.0, 20.0, 25.0, 30.0, 40.0}) {
      CAPTURE(t);
      const auto oiml = oiml_fixed_point(salt, Celsius{t});
      const auto other = greenspan_fixed_point(salt, Celsius{t});
      CHECK(std::abs((oiml->humidity - other->humidity).value()) <=
            std::hypot(oiml->expanded, other->expanded));
    }
  }
}

TEST_CASE("[NIOSH-NPG: isopropyl alcohol] vapour pressure, mass concentration, limits") {
  // 33 mmHg at 68 F; 1 ppm = 2.46 mg/m3 at 25 C; TWA 400 ppm (980 mg/m3), ST 500 ppm; LEL 2.0 %; flash point
  // 53 F.
  CHECK(isopropanol_vapour_pressure(Celsius{20.0}).value() / 133.322 ==
        doctest::Approx(33.0).epsilon(0.5 / 33.0));
  const SolventUse use{
      .alcohol_grams = 98.0, .volume_m3 = 100.0, .air_changes_per_h = 0.0, .air = Celsius{25.0}};
  const SolventBound bound = solvent_bound(use);
  CHECK(bound.peak_ppm == doctest::Approx(980.0 / 2.46).epsilon(0.005 / 2.46));
  const SolventLimits limits;
  CHECK(limits.day_ppm == 400.0);
  CHECK(limits.short_ppm == 500.0);
  CHECK(limits.explosive_ppm == doctest::Approx(0.020 * 1e6));
  CHECK(limits.flash_point.value() == doctest::Approx((53.0 - 32.0) / 1.8).epsilon(0.5 / 11.7));
}

TEST_CASE("[CRC: boiling point of 2-propanol] Antoine's equation at 82.3 C (from memory)") {
  // Between 82.1 and 82.5 C the pressure must pass one atmosphere.
  CHECK(isopropanol_vapour_pressure(Celsius{82.1}).value() < 101'325.0);
  CHECK(isopropanol_vapour_pressure(Celsius{82.5}).value() > 101'325.0);
}

TEST_SUITE_END();
