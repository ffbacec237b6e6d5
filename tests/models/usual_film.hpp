// The film stack that most tests dry, and air.
#pragma once

#include "models/catalogue.hpp"

namespace drying_cases {

using namespace dryclock::models;

inline Layer layer(double micrometres, double permeability, double sorption, double energy = 13'000.0) {
  return {"", Metres{micrometres * 1e-6}, Permeability{permeability}, sorption, energy};
}

// Adhesive 40 um, aliphatic polyurethane 150 um, topcoat 10 um.
inline FilmStack baseline() {
  return {{layer(40.0, 3e-14, 4.5), layer(150.0, 5e-14, 17.0), layer(10.0, 1e-14, 15.0)}, 0.5};
}

inline Surroundings air(double celsius, double humidity) {
  Surroundings s;
  s.air = Celsius{celsius};
  s.humidity = Humidity{humidity};
  return s;
}

inline Surroundings air(double celsius, double humidity, double panel_c) {
  Surroundings s = air(celsius, humidity);
  s.panel_c = panel_c;
  return s;
}

}  // namespace drying_cases
