// What a value can be, and so how it is written and in which unit.
#pragma once

#include <cstdint>

namespace dryclock {

enum class Measure : std::uint8_t {
  text,             // stands as it is: a name that somebody gave
  word,             // the key of a message without values: "words.zone-edge"
  film,             // a key of the catalogue of films
  solution,         // of solutions
  panel,            // of panels
  facts,            // other facts: joined as a list
  count,            // whole; chooses singular or plural
  celsius,          // temperature
  kelvin,           // difference of temperatures
  humidity,         // %RH over water
  humidity_change,  // %RH, with its sign
  water,            // g/m2
  hours,            // h
  figure,           // of no unit: pace, bond
  share,            // fraction; written in per cent
  span,             // s; written in days, hours, minutes
  time,             // instant
  concentration,    // ppm
  mass,             // g
  volume,           // m3
  storage,          // bytes; written in MB
  speed,            // of air, m/s
  resistance,       // of a film to water, m2 s Pa/kg
};

}  // namespace dryclock
