// What was seen at one piece of film, as the belief about the shop rests on it.
#pragma once

#include <string>
#include <vector>

#include "domain/event.hpp"
#include "models/evidence.hpp"

namespace dryclock::engine {

struct Lesson {
  Seq piece = 0;  // or a witness plate: rows number both
  std::string film;
  Seq measurement = 0;
  std::vector<models::ZoneKind> kinds;  // of the zones
  models::PieceEvidence evidence;
  bool operator==(const Lesson&) const = default;
};

}  // namespace dryclock::engine
