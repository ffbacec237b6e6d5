// Humidity fixed points: the air in a closed jar over a saturated salt solution. What a sensor should show
// there, and how far that is known.
#pragma once

#include <cstdint>
#include <optional>

#include "models/units.hpp"

namespace dryclock::models {

enum class Salt : std::uint8_t {
  lithium_chloride,
  magnesium_chloride,
  potassium_carbonate,
  sodium_chloride,
  potassium_chloride,
  potassium_sulphate
};
inline constexpr std::size_t salt_kinds = 6;

struct FixedPoint {
  Humidity humidity;      // fraction, over liquid water
  double expanded = 0.0;  // expanded uncertainty (k = 2), as a fraction
};

// OIML R 121:1996 Table 1, linear between its temperatures, with the larger uncertainty of the two
// neighbours. [fraction] 5..50 C, potassium carbonate 5..30 C; absent outside. For lithium chloride below 25
// C the table gives a range: its wider side is the uncertainty.
[[nodiscard]] std::optional<FixedPoint> oiml_fixed_point(Salt salt, Celsius temperature);

// Greenspan 1977, polynomials in t; uncertainty the largest he states between 10 and 40 C (from memory).
// [fraction] Magnesium, sodium and potassium chloride, 10..40 C; absent otherwise.
[[nodiscard]] std::optional<FixedPoint> greenspan_fixed_point(Salt salt, Celsius temperature);

// The value to expect: OIML's, its uncertainty widened by what Greenspan differs where he has that salt.
// [fraction]
[[nodiscard]] std::optional<FixedPoint> expected_humidity(Salt salt, Celsius temperature);

enum class SensorVerdict : std::uint8_t {
  agrees,    // within the sensor's own tolerance, whatever the fixed point's uncertainty
  doubtful,  // beyond it, by less than the uncertainty of this check
  off        // beyond both
};

struct SensorCheck {
  FixedPoint expected;     // its uncertainty includes the jar's
  double deviation = 0.0;  // shown minus expected, fraction
  SensorVerdict verdict = SensorVerdict::agrees;
};

// A sensor that shows `shown` at `temperature` in the jar. `tolerance` is what its maker states (fraction);
// the jar is taken to be even in temperature within `unevenness` (standard uncertainty): 0.2 K is 1.2 % of
// the humidity. Absent outside the salt's range.
[[nodiscard]] std::optional<SensorCheck> check_sensor(Salt salt, Celsius temperature, Humidity shown,
                                                      double tolerance = 0.02,
                                                      KelvinDifference unevenness = KelvinDifference{0.2});

}  // namespace dryclock::models
