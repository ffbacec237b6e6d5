// What is told of a vehicle, and when these tests begin.
#pragma once

#include <string>
#include <utility>

#include "domain/event.hpp"

namespace dryclock::test {

inline const Time t0 = parse_rfc3339("2026-03-01T20:00:00Z").value();
inline const Time morning = parse_rfc3339("2026-03-01T08:00:00Z").value();

inline Event event(Seq seq, Time at, EventDetail detail) {
  Event told;
  told.seq = seq;
  told.at = told.entered = at;
  told.detail = std::move(detail);
  return told;
}

inline Lay lay(VehicleId vehicle, std::string panel, int part = 1, int parts = 1) {
  Lay laid;
  laid.vehicle = vehicle;
  laid.panel = std::move(panel);
  laid.part = part;
  laid.parts = parts;
  return laid;
}

}  // namespace dryclock::test
