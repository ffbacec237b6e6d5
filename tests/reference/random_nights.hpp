// Reproducible random cases over the ranges of materials and air that a shop can meet, for the reference
// model and for models/ alike.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>

#include "models/catalogue.hpp"
#include "night_by_cvode.hpp"

namespace dryclock::reference {

class Draw {
 public:
  explicit Draw(std::uint64_t seed) : random_(seed) {}
  // Uniform in [low, high); written out, since the standard library's distributions differ between makers.
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11U) * 0x1p-53;
  }
  double log_between(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }

 private:
  std::mt19937_64 random_;
};

enum class Energies { alike, unlike };  // of the sheets of one stack

// One to three sheets with activation energies of 10 to 18 kJ/mol; ramps and steps of air and panel over
// eight days, dew on cold panels included; break-up none (one in three), or 0.5 to 3 g/m2.
inline Night random_night(std::uint64_t seed, Energies energies) {
  Draw draw{seed};
  Night night;
  const auto sheet = [&](double thin, double thick, double least, double most, double s_low, double s_high) {
    Sheet s;
    s.thickness = draw.between(thin, thick);
    s.permeability = draw.log_between(least, most);
    s.sorption = draw.between(s_low, s_high);
    s.activation_energy = draw.between(10e3, 18e3);
    return s;
  };
  const double kind = draw.between(0.0, 1.0);
  if (kind > 0.2) {
    night.sheets.push_back(sheet(20e-6, 60e-6, 1.5e-14, 1e-13, 3.0, 10.0));
  }
  night.sheets.push_back(sheet(100e-6, 200e-6, 3e-14, 1.2e-13, 13.0, 20.0));
  if (kind > 0.4) {
    night.sheets.push_back(sheet(5e-6, 25e-6, 2e-15, 3e-14, 5.0, 20.0));
  }
  for (Sheet& s : night.sheets) {
    if (energies == Energies::alike) {
      s.activation_energy = night.sheets.front().activation_energy;
    }
    s.cells = s.thickness > 80e-6 ? 80 : 40;
  }
  night.water = draw.log_between(1.0, 40.0);
  night.break_up = draw.between(0.0, 1.0) < 1.0 / 3.0 ? 0.0 : draw.between(0.5, 3.0);
  night.dry_below = night.break_up > 0.0 ? 0.05 : 0.0;
  night.air_layer = draw.log_between(1e-3, 6e-3);

  const auto moment = [&](double at) {
    const double air_c = draw.between(5.0, 35.0);
    return Moment{at, air_c, draw.between(0.20, 0.85), air_c + draw.between(-4.0, 6.0)};
  };
  double at = 0.0;
  night.air.push_back(moment(at));
  while (at < 8 * 86'400.0) {
    at += draw.between(0.5, 8.0) * 3600.0;
    night.air.push_back(moment(at));
    if (draw.between(0.0, 1.0) < 0.3) {
      night.air.push_back(moment(at));
    }
  }
  return night;
}

inline models::FilmStack stack_of(const Night& night) {
  models::FilmStack stack;
  for (const Sheet& s : night.sheets) {
    stack.layers.push_back({.name = "sheet",
                            .thickness = models::Metres{s.thickness},
                            .permeability = models::Permeability{s.permeability},
                            .sorption = s.sorption,
                            .activation_energy = s.activation_energy});
  }
  return stack;
}

inline models::Surroundings surroundings(const Moment& moment) {
  models::Surroundings air;
  air.air = models::Celsius{moment.air_c};
  air.humidity = models::Humidity{moment.humidity};
  air.panel_c = moment.panel_c;
  return air;
}

inline Moment part_way(const Moment& a, const Moment& b, double k) {
  return {a.at + k * (b.at - a.at), a.air_c + k * (b.air_c - a.air_c),
          a.humidity + k * (b.humidity - a.humidity), a.panel_c + k * (b.panel_c - a.panel_c)};
}
inline Moment between(const Moment& a, const Moment& b, double at) {
  return part_way(a, b, (at - a.at) / (b.at - a.at));
}

}  // namespace dryclock::reference
