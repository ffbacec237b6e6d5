// What the house knows of each quantity that a sensor may tell, once.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <string_view>

#include "domain/measure.hpp"

namespace dryclock {

enum class Quantity : std::uint8_t { air_temperature, relative_humidity, panel_temperature, air_speed };
enum class Unit : std::uint8_t { celsius, fahrenheit, kelvin, percent, fraction, metres_per_second };
inline constexpr std::array<std::string_view, 6> unit_words{"C", "F", "K", "%", "fraction", "m/s"};
static_assert(static_cast<std::size_t>(Unit::metres_per_second) + 1 == unit_words.size());

struct QuantityTraits {
  std::string_view word;      // in JSON, the database, TOML and on the command line
  Measure measure;            // a Reading's value
  std::array<Unit, 3> units;  // that it may come in; the first is a Reading's, and meant where nobody says
  bool rests;                 // really is the very same for hours, in still air
};
// In the order of the enumeration.
inline constexpr std::array quantity_traits{
    QuantityTraits{
        "air-temperature", Measure::celsius, {Unit::celsius, Unit::fahrenheit, Unit::kelvin}, false},
    QuantityTraits{
        "relative-humidity", Measure::humidity, {Unit::percent, Unit::fraction, Unit::percent}, false},
    QuantityTraits{
        "panel-temperature", Measure::celsius, {Unit::celsius, Unit::fahrenheit, Unit::kelvin}, false},
    QuantityTraits{"air-speed",
                   Measure::speed,
                   {Unit::metres_per_second, Unit::metres_per_second, Unit::metres_per_second},
                   true}};
inline constexpr std::size_t quantity_kinds = quantity_traits.size();
static_assert(static_cast<std::size_t>(Quantity::air_speed) + 1 == quantity_kinds, "the last has no traits");

[[nodiscard]] constexpr const QuantityTraits& traits(Quantity quantity) {
  return quantity_traits[static_cast<std::size_t>(quantity)];
}

[[nodiscard]] constexpr bool fits(Unit unit, Quantity quantity) {
  return std::ranges::find(traits(quantity).units, unit) != traits(quantity).units.end();
}
[[nodiscard]] constexpr Unit usual_unit(Quantity quantity) {
  return traits(quantity).units.front();
}

// What a sensor sent in its own unit, in those of a Reading.
[[nodiscard]] constexpr double in_usual_unit(double value, Unit unit) {
  switch (unit) {
    case Unit::fahrenheit:
      return (value - 32.0) / 1.8;
    case Unit::kelvin:
      return value - 273.15;
    case Unit::fraction:
      return value * 100.0;
    case Unit::celsius:
    case Unit::percent:
    case Unit::metres_per_second:
      break;
  }
  return value;
}

}  // namespace dryclock
