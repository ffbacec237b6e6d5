// What a vehicle taught of the shop, as `learnt` rows keep it once it has left: its air need not be replayed
// to know it. A row holds all that was seen; what of it counts is decided when it is read, so that a look
// taken back, or an edge that lifts weeks later, counts as it should.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/field.hpp"
#include "domain/types.hpp"
#include "models/evidence.hpp"

namespace dryclock::models {

void visit_fields(auto& f, Of<Seen> auto& s) {
  f.type("Seen", "what was seen, and what the film had drunk by then");
  f("sign", s.sign);
  f("seconds", s.seconds, "since lay");
  f("drunk_g_m2", s.drunk, "by films of rising resistance");
  f("front_squared_m2", s.front_squared, "of the margin");
}

}  // namespace dryclock::models

namespace dryclock {

struct LearntSign {
  models::Seen seen;
  Time at;        // when the event says that it was
  Seq event = 0;  // that it came from: an inspection; of an edge that was turned the wrap or the trim
  bool operator==(const LearntSign&) const = default;
};
void visit_fields(auto& f, Of<LearntSign> auto& s) {
  f.type("LearntSign", "the same, with the event that it came from");
  f.flat(s.seen);
  f("at", s.at);
  f("event", s.event, numbered);
}

// models::Margin; without `opened_at_m2` it was never opened.
struct LearntMargin {
  double width = 0.0, openness = 0.0, opened = 0.0;
  std::optional<double> opened_at;
  bool operator==(const LearntMargin&) const = default;
};
void visit_fields(auto& f, Of<LearntMargin> auto& s) {
  f.type("LearntMargin", "the free margin of an edge");
  f("width_m", s.width, "0: none");
  f("openness", s.openness);
  f("opened", s.opened);
  f.optional("opened_at_m2", s.opened_at);
}

struct LearntZone {
  models::ZoneKind kind = models::ZoneKind::field;
  double usual = 0.0;  // g/m2
  LearntMargin margin;
  std::vector<LearntSign> seen;  // in order of time
  bool operator==(const LearntZone&) const = default;
};
void visit_fields(auto& f, Of<LearntZone> auto& s) {
  f.type("LearntZone", "what was seen of one zone");
  f("kind", s.kind);
  f("usual_g_m2", s.usual, "right after the squeegee");
  f("margin", s.margin);
  f("seen", s.seen);
}

struct LearntPiece {
  PieceId piece = 0;
  std::string film;     // keys of the catalogues
  Seq measurement = 0;  // the event that had measured the film when it was laid; 0: the catalogue's figure
  std::string panel;
  std::vector<LearntZone> zones;
  bool operator==(const LearntPiece&) const = default;
};
void visit_fields(auto& f, Of<LearntPiece> auto& s) {
  f.type("LearntPiece", "what was seen of one piece");
  f("piece", s.piece, numbered);
  f("film", s.film);
  f("measurement", s.measurement, AtLeast{0}, "0: the catalogue's figure");
  f("panel", s.panel);
  f("zones", s.zones);
}

// A row's payload; its topic is shown_topic(vehicle) as that of `shown` rows.
struct Learnt {
  VehicleId vehicle = 0;
  Time at;
  Seq release = 0;  // the event with which it left: one that is taken back takes the row with it
  Seq after = 0;    // the newest of the vehicle's events that was known
  std::vector<LearntPiece> pieces;
  bool operator==(const Learnt&) const = default;
};
void visit_fields(auto& f, Of<Learnt> auto& s) {
  f.type("Learnt", "what a vehicle taught of the shop");
  f("vehicle", s.vehicle, numbered);
  f("at", s.at);
  f("release", s.release, numbered);
  f("after", s.after, numbered);
  f("pieces", s.pieces);
}

}  // namespace dryclock
