#include "models/salts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "models/humid_air.hpp"

namespace dryclock::models {
namespace {

struct Row {
  double celsius, percent, expanded;
};

// OIML R 121:1996 Table 1. For lithium chloride below 25 C: the value, and the wider side of the range
// printed.
constexpr std::array<Row, 8> lithium_chloride{{{5, 13, 1.8},
                                               {10, 13, 1.7},
                                               {15, 12, 1.8},
                                               {20, 12, 0.9},
                                               {25, 11.3, 0.3},
                                               {30, 11.3, 0.3},
                                               {40, 11.2, 0.3},
                                               {50, 11.1, 0.3}}};
constexpr std::array<Row, 8> magnesium_chloride{{{5, 33.6, 0.3},
                                                 {10, 33.5, 0.3},
                                                 {15, 33.3, 0.3},
                                                 {20, 33.1, 0.2},
                                                 {25, 32.8, 0.2},
                                                 {30, 32.4, 0.2},
                                                 {40, 31.6, 0.2},
                                                 {50, 30.5, 0.2}}};
constexpr std::array<Row, 6> potassium_carbonate{
    {{5, 43.1, 0.5}, {10, 43.1, 0.4}, {15, 43.2, 0.4}, {20, 43.2, 0.4}, {25, 43.2, 0.4}, {30, 43.2, 0.5}}};
constexpr std::array<Row, 8> sodium_chloride{{{5, 75.7, 0.3},
                                              {10, 75.7, 0.3},
                                              {15, 75.6, 0.2},
                                              {20, 75.5, 0.2},
                                              {25, 75.3, 0.2},
                                              {30, 75.1, 0.2},
                                              {40, 74.7, 0.2},
                                              {50, 74.5, 0.9}}};
constexpr std::array<Row, 8> potassium_chloride{{{5, 87.7, 0.5},
                                                 {10, 86.8, 0.4},
                                                 {15, 85.9, 0.4},
                                                 {20, 85.1, 0.3},
                                                 {25, 84.2, 0.3},
                                                 {30, 83.6, 0.3},
                                                 {40, 82.3, 0.3},
                                                 {50, 81.2, 0.4}}};
constexpr std::array<Row, 8> potassium_sulphate{{{5, 98.5, 1.0},
                                                 {10, 98.2, 0.8},
                                                 {15, 97.9, 0.7},
                                                 {20, 97.6, 0.6},
                                                 {25, 97.3, 0.5},
                                                 {30, 97.0, 0.4},
                                                 {40, 96.4, 0.4},
                                                 {50, 95.8, 0.5}}};

std::span<const Row> table(Salt salt) {
  switch (salt) {
    case Salt::lithium_chloride:
      return lithium_chloride;
    case Salt::magnesium_chloride:
      return magnesium_chloride;
    case Salt::potassium_carbonate:
      return potassium_carbonate;
    case Salt::sodium_chloride:
      return sodium_chloride;
    case Salt::potassium_chloride:
      return potassium_chloride;
    case Salt::potassium_sulphate:
      return potassium_sulphate;
  }
  return {};
}

}  // namespace

std::optional<FixedPoint> oiml_fixed_point(Salt salt, Celsius temperature) {
  const auto rows = table(salt);
  const double t = temperature.value();
  if (rows.empty() || !(t >= rows.front().celsius && t <= rows.back().celsius)) {
    return std::nullopt;
  }
  std::size_t i = 1;
  while (t > rows[i].celsius) {
    ++i;
  }
  const Row &low = rows[i - 1], &high = rows[i];
  const double k = (t - low.celsius) / (high.celsius - low.celsius);
  double expanded = std::max(low.expanded, high.expanded);
  if (t == high.celsius) {
    expanded = high.expanded;
  } else if (t == low.celsius) {
    expanded = low.expanded;
  }
  return FixedPoint{Humidity{(low.percent + k * (high.percent - low.percent)) / 100.0}, expanded / 100.0};
}

std::optional<FixedPoint> greenspan_fixed_point(Salt salt, Celsius temperature) {
  const double t = temperature.value();
  if (!(t >= 10.0 && t <= 40.0)) {
    return std::nullopt;
  }
  const auto percent = [](double value, double expanded) {
    return FixedPoint{Humidity{value / 100.0}, expanded / 100.0};
  };
  switch (salt) {
    case Salt::magnesium_chloride:
      return percent(33.6686 + t * (-0.00797397 + t * -1.08988e-3), 0.24);
    case Salt::sodium_chloride:
      return percent(75.5164 + t * (0.0398321 + t * (-2.65459e-3 + t * 2.848e-5)), 0.22);
    case Salt::potassium_chloride:
      return percent(88.6190 + t * (-0.193340 + t * 8.99706e-4), 0.39);
    default:
      return std::nullopt;
  }
}

std::optional<FixedPoint> expected_humidity(Salt salt, Celsius temperature) {
  auto expected = oiml_fixed_point(salt, temperature);
  const auto second = greenspan_fixed_point(salt, temperature);
  if (expected && second) {
    expected->expanded = std::hypot(expected->expanded, (second->humidity - expected->humidity).value());
  }
  return expected;
}

std::optional<SensorCheck> check_sensor(Salt salt, Celsius temperature, Humidity shown, double tolerance,
                                        KelvinDifference unevenness) {
  const auto expected = expected_humidity(salt, temperature);
  if (!expected) {
    return std::nullopt;
  }
  const double jar = 2.0 * expected->humidity.value() * saturation_slope(temperature) * unevenness.value();
  SensorCheck check;
  check.expected = {expected->humidity, std::hypot(expected->expanded, jar)};
  check.deviation = (shown - expected->humidity).value();
  const double beyond = std::abs(check.deviation) - tolerance;
  if (beyond > check.expected.expanded) {
    check.verdict = SensorVerdict::off;
  } else if (beyond > 0.0) {
    check.verdict = SensorVerdict::doubtful;
  }
  return check;
}

}  // namespace dryclock::models
