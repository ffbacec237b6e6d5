#include "models/humid_air.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {
namespace {

constexpr double kelvin_at_0c = 273.15;

double clamped_kelvin(Celsius t) {
  return std::clamp(t.value(), coldest.value(), hottest.value()) + kelvin_at_0c;
}

// ln of the saturation pressure over water and over ice, with T in K.
double ln_over_water(double t) {
  return -5800.2206 / t + 1.3914993 + t * (-0.048640239 + t * (4.1764768e-5 + t * -1.4452093e-8)) +
         6.5459673 * std::log(t);
}
double slope_over_water(double t) {
  return 5800.2206 / (t * t) - 0.048640239 + t * (2.0 * 4.1764768e-5 + t * 3.0 * -1.4452093e-8) +
         6.5459673 / t;
}
double ln_over_ice(double t) {
  return -5674.5359 / t + 6.3925247 +
         t * (-9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 + t * -9.484024e-13))) +
         4.1635019 * std::log(t);
}
double slope_over_ice(double t) {
  return 5674.5359 / (t * t) - 9.677843e-3 +
         t * (2.0 * 6.2215701e-7 + t * (3.0 * 2.0747825e-9 + t * 4.0 * -9.484024e-13)) + 4.1635019 / t;
}

// Newton on ln p, which is nearly straight in 1/T: five steps from anywhere in the range reach 1e-9 K.
template <class Ln, class Slope>
Celsius inverse(Pascal vapour, Celsius low, Celsius high, Ln ln_p, Slope slope) {
  if (!(vapour.value() > std::exp(ln_p(low.kelvin())))) {
    return low;
  }
  if (vapour.value() >= std::exp(ln_p(high.kelvin()))) {
    return high;
  }
  const double target = std::log(vapour.value());
  double inverse_t = 1.0 / kelvin_at_0c;
  for (int i = 0; i < 8; ++i) {
    const double t = 1.0 / inverse_t;
    const double step = (ln_p(t) - target) / (slope(t) * t * t);
    inverse_t += step;
    if (std::abs(step) * t * t < 1e-10) {
      break;
    }
  }
  return Celsius{1.0 / inverse_t - kelvin_at_0c};
}

}  // namespace

Pascal saturation_pressure(Celsius temperature) {
  return Pascal{std::exp(ln_over_water(clamped_kelvin(temperature)))};
}

double saturation_slope(Celsius temperature) {
  return slope_over_water(clamped_kelvin(temperature));
}

Pascal saturation_pressure_ice(Celsius temperature) {
  return Pascal{std::exp(ln_over_ice(std::min(clamped_kelvin(temperature), kelvin_at_0c)))};
}

Pascal vapour_pressure(Celsius temperature, Humidity humidity) {
  return saturation_pressure(temperature) * std::clamp(humidity.value(), 0.0, 1.0);
}

Celsius dew_point(Pascal vapour) {
  return inverse(vapour, coldest, hottest, ln_over_water, slope_over_water);
}

Celsius frost_point(Pascal vapour) {
  return inverse(vapour, coldest, Celsius{0.0}, ln_over_ice, slope_over_ice);
}

GramsPerCubicMetre vapour_density(Celsius temperature, Pascal vapour) {
  return GramsPerCubicMetre{1000.0 * vapour.value() / (vapour_gas_constant * clamped_kelvin(temperature))};
}

double humidity_ratio(Pascal vapour, Pascal pressure) {
  return 0.621945 * (vapour / (pressure - vapour));
}

SquareMetresPerSecond vapour_diffusivity(Celsius temperature) {
  return SquareMetresPerSecond{0.2178e-4 * std::pow(clamped_kelvin(temperature) / kelvin_at_0c, 1.81)};
}

std::uint8_t out_of_range(const Surroundings& air) {
  const bool temperature_good = air.air >= coldest && air.air <= hottest;
  const bool humidity_good = air.humidity.value() >= 0.0 && air.humidity.value() <= 1.0;
  return temperature_good && humidity_good ? valid : air_out_of_range;
}

Surroundings clamped(const Surroundings& air) {
  Surroundings near = air;
  near.air = std::isnan(air.air.value()) ? coldest : std::clamp(air.air, coldest, hottest);
  near.humidity =
      std::isnan(air.humidity.value()) ? Humidity{1.0} : Humidity{std::clamp(air.humidity.value(), 0.0, 1.0)};
  return near;
}

}  // namespace dryclock::models
