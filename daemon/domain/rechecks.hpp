// What the rechecks found, against what was known when the vehicle left: which pieces lift.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/field.hpp"

namespace dryclock {

// One piece that was looked at again after the hand-over.
struct RecheckedPiece {
  VehicleId vehicle = 0;
  PieceId piece = 0;
  std::string panel;
  std::vector<models::ZoneKind> zones;
  bool lifted = false;                         // some recheck that stands found it lifting, or redid it
  std::vector<models::ZoneKind> lifted_zones;  // where, as far as that was said
  bool trimmed = false;
  std::optional<double> trim_probability;  // that it was trim-ready then; absent: it was entered later
  bool under_tension = false;              // noted when it was laid
  bool left_early = false;                 // the vehicle was released before it was release-ready
  bool operator==(const RecheckedPiece&) const = default;
};

// The pieces that share something, and how many of them lifted.
struct RecheckGroup {
  std::string by;  // "all", "panel", "zone", "trim", "tension", "release"
  std::string of;  // a panel's key, a zone's word, or what is so: "90-100 %", "noted", "early"
  int pieces = 0, lifted = 0;
  double low = 0.0, high = 1.0;  // of the share that lifts: 95 % interval
  bool few = true;               // too few pieces to say anything
};
void visit_fields(auto& f, Of<RecheckGroup> auto& s) {
  f.type("RecheckGroup", "the pieces that share something, and how many of them lifted");
  f("by", s.by, "all, panel, zone, trim, tension or release");
  f("of", s.of, "a panel's key, a zone's word, or what is so, as a key; a band of chances");
  f("pieces", s.pieces, AtLeast{1});
  f("lifted", s.lifted, AtLeast{0});
  f("low", s.low, chance, "of the share that lifts: 95 % interval");
  f("high", s.high, chance);
  f("few", s.few, "too few pieces to say anything");
}

struct RecheckReport {
  int vehicles = 0;   // that were looked at again
  int pending = 0;    // of them, not worked out yet: ask again
  int few_below = 0;  // pieces: fewer are too few
  std::vector<RecheckGroup> groups;
};
void visit_fields(auto& f, Of<RecheckReport> auto& s) {
  f.type("RecheckReport", "what the rechecks found");
  f("vehicles", s.vehicles, AtLeast{0}, "that were looked at again");
  f("pending", s.pending, AtLeast{0}, "of them, not worked out yet: ask again");
  f("few_below", s.few_below, AtLeast{0}, "fewer pieces are too few to say anything");
  f("groups", s.groups);
}

}  // namespace dryclock
