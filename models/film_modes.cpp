#include "models/film_modes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "models/air_layer.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::models {
namespace {

constexpr double grams = 1000.0;  // in a kilogram

// One sheet as the wave sees it: conductance k [g/(m s)], sorption S [g/m3], thickness d [m].
struct Sheet {
  double conductance, sorption, thickness;
};

// Amplitude and slope (k dphi/dx) at a face.
struct Face {
  double value, flux;
};

Face across(const Sheet& sheet, double rate, Face face) {
  const double beta = std::sqrt(rate * sheet.sorption / sheet.conductance);
  const double z = sheet.conductance * beta;
  const double c = std::cos(beta * sheet.thickness);
  const double s = std::sin(beta * sheet.thickness);
  return {face.value * c + face.flux / z * s, face.flux * c - z * face.value * s};
}

// Pruefer angle at the outer face: tan = value/flux, counted on through every half turn, so that it grows
// with the rate and passes each eigenvalue once.
double angle_outside(const std::vector<Sheet>& sheets, double rate, double angle) {
  using std::numbers::pi;
  for (const Sheet& sheet : sheets) {
    const double beta = std::sqrt(rate * sheet.sorption / sheet.conductance);
    const double z = sheet.conductance * beta;
    // Within a sheet the angle with tan = z value/flux turns evenly; both share their multiples of pi/2.
    const double turns = pi * std::floor(angle / pi + 0.5);
    const double even = turns + std::atan(z * std::tan(angle - turns)) + beta * sheet.thickness;
    const double back = pi * std::floor(even / pi + 0.5);
    angle = back + std::atan(std::tan(even - back) / z);
  }
  return angle;
}

// The number-th rate (from 0) at which the outer face meets the air layer: flux = -value/air.
double find_rate(const std::vector<Sheet>& sheets, double air, double start, std::size_t number) {
  using std::numbers::pi;
  const double target = pi - std::atan(air) + pi * static_cast<double>(number);
  double low = 0.0;
  double high = 1e-6;
  while (angle_outside(sheets, high, start) < target) {
    low = high;
    high *= 4.0;
  }
  for (int i = 0; i < 200 && high - low > 1e-15 * high; ++i) {
    const double middle = 0.5 * (low + high);
    (angle_outside(sheets, middle, start) < target ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

struct Mode {
  double rate = 0.0;
  Face inside{}, outside{};  // normalised to <phi, phi> = 1
};

Mode find_mode(const std::vector<Sheet>& sheets, double air, Face start, std::size_t number) {
  Mode mode;
  mode.rate = find_rate(sheets, air, std::atan2(start.value, start.flux), number);
  double norm = 0.0;
  Face face = start;
  for (const Sheet& sheet : sheets) {
    const Face next = across(sheet, mode.rate, face);
    // Integral of value^2: from value^2 + (flux/z)^2 = const within a sheet.
    const double z2 = mode.rate * sheet.sorption * sheet.conductance;
    const double amplitude2 = face.value * face.value + face.flux * face.flux / z2;
    norm += 0.5 * sheet.sorption * sheet.thickness * amplitude2 +
            0.5 * (face.value * face.flux - next.value * next.flux) / mode.rate;
    face = next;
  }
  const double scale = 1.0 / std::sqrt(norm);
  mode.inside = {start.value * scale, start.flux * scale};
  mode.outside = {face.value * scale, face.flux * scale};
  return mode;
}

double clamp_into(double value, double low, double high, std::uint8_t& validity) {
  if (value >= low && value <= high) return value;
  validity |= film_out_of_range;
  return value > high ? high : low;
}

}  // namespace

bool one_activation_energy(const FilmStack& stack) {
  return std::all_of(stack.layers.begin(), stack.layers.end(), [&](const Layer& layer) {
    return layer.activation_energy == stack.layers.front().activation_energy;
  });
}

FilmStack clamped(const FilmStack& stack, std::uint8_t& validity) {
  FilmStack inside = stack;
  if (inside.layers.empty()) {
    inside.layers.push_back({});
    validity |= film_out_of_range;
  }
  for (Layer& layer : inside.layers) {
    layer.thickness = Metres{clamp_into(layer.thickness.value(), 1e-6, 3e-3, validity)};
    layer.permeability = Permeability{clamp_into(layer.permeability.value(), 1e-17, 1e-11, validity)};
    layer.sorption = clamp_into(layer.sorption, 0.01, 300.0, validity);
    layer.activation_energy = clamp_into(layer.activation_energy, -30e3, 80e3, validity);
  }
  inside.ln_resistance_spread = clamp_into(stack.ln_resistance_spread, 0.0, 2.0, validity);
  return inside;
}

FilmModes film_modes(const FilmStack& stack, MetresPerSecond air_layer, Celsius temperature) {
  FilmModes modes;
  modes.temperature = temperature;
  const FilmStack film = clamped(stack, modes.validity);
  const double saturated = saturation_pressure(temperature).value();
  const double air = air_resistance(air_layer, temperature).value() / (saturated * grams);

  std::vector<Sheet> sheets;
  double total = air;
  for (const Layer& layer : film.layers) {
    const double permeability =
        layer.permeability.value() * permeability_ratio(temperature, layer.activation_energy);
    sheets.push_back({permeability * saturated * grams, layer.sorption * grams, layer.thickness.value()});
    total += sheets.back().thickness / sheets.back().conductance;
  }
  modes.resistance = total;
  modes.air_share = air / total;

  // 1 - xi falls in a straight line within each sheet.
  double v = 1.0;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const double share = sheets[i].thickness / sheets[i].conductance / total;
    const double w = v - share;
    const double holds = sheets[i].sorption * sheets[i].thickness;
    modes.capacity += holds;
    modes.inner_content += holds * (v + w) / 2.0;
    modes.inner_inner += holds * (v * v + v * w + w * w) / 3.0;
    v = w;

    const double energy = film.layers[i].activation_energy;
    const auto same = std::find_if(modes.sheets.begin(), modes.sheets.end(),
                                   [&](const FilmModes::Sheet& s) { return s.activation_energy == energy; });
    if (same == modes.sheets.end()) {
      modes.sheets.push_back({energy, share});
    } else {
      same->share += share;
    }
  }
  modes.inner_outer = modes.inner_content - modes.inner_inner;

  // The projections follow from the values at the faces by Green's identity.
  modes.inner_inner_rest = modes.inner_inner;
  modes.inner_outer_rest = modes.inner_outer;
  std::array<Mode, wet_modes> wet;
  for (std::size_t k = 0; k < wet_modes; ++k) {
    wet[k] = find_mode(sheets, air, {0.0, 1.0}, k);
    modes.wet_rate[k] = wet[k].rate;
    modes.inner[k] = wet[k].inside.flux / wet[k].rate;
    modes.outer[k] = -wet[k].outside.flux / wet[k].rate;
    modes.inner_inner_rest -= modes.inner[k] * modes.inner[k];
    modes.inner_outer_rest -= modes.inner[k] * modes.outer[k];
  }
  for (std::size_t j = 0; j < dry_modes; ++j) {
    const Mode dry = find_mode(sheets, air, {1.0, 0.0}, j);
    modes.dry_rate[j] = dry.rate;
    modes.dry_inner[j] = dry.inside.value / (total * dry.rate);
    modes.dry_content[j] = -dry.outside.flux / dry.rate;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      modes.cross[j][k] = wet[k].inside.flux * dry.inside.value / (wet[k].rate - dry.rate);
    }
  }
  modes.standard =
      instant(modes, reference_temperature, reference_temperature, Humidity{reference_activity}, air_layer);
  return modes;
}

Instant instant(const FilmModes& modes, Celsius panel, Celsius air, Humidity humidity,
                MetresPerSecond air_layer) {
  Instant now;
  const double saturated = saturation_pressure(panel).value();
  const double reference = saturation_pressure(modes.temperature).value();
  now.saturation = saturated / reference;
  now.film = 0.0;
  for (const FilmModes::Sheet& sheet : modes.sheets) {
    now.film += sheet.share * permeability_ratio(modes.temperature, sheet.activation_energy) /
                permeability_ratio(panel, sheet.activation_energy);
  }
  now.air = air_resistance(air_layer, air).value() / (reference * grams * modes.resistance);
  now.activity = std::min(1.0, vapour_pressure(air, humidity).value() / saturated);
  return now;
}

}  // namespace dryclock::models
