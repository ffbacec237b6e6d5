// What the shop has shown of its films, its hands and its eyes, as people read it: factors against what is
// usual, each with a range that holds it in eight cases of ten.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/field.hpp"
#include "domain/piece_view.hpp"
#include "models/quantiles.hpp"

namespace dryclock {

struct LearnedFilm {
  std::string film;
  Seq measurement = 0;  // the event that had measured it; 0: against the catalogue's figure
  models::Quantiles resistance;
  int looks = 0, pieces = 0;
  bool known = false;
  bool operator==(const LearnedFilm&) const = default;
};
void visit_fields(auto& f, Of<LearnedFilm> auto& s) {
  f.type("LearnedFilm", "what the shop has shown of a film");
  f("film", s.film);
  f("measurement", s.measurement, AtLeast{0}, "the event that had measured it; 0: the catalogue's figure");
  f("resistance", s.resistance, "against that figure");
  f("looks", s.looks, AtLeast{0});
  f("pieces", s.pieces, AtLeast{0});
  f("known", s.known, "looked at often enough for steps to be called ready without a look");
}

struct LearnedZone {
  models::ZoneKind zone = models::ZoneKind::field;
  int looks = 0, pieces = 0;
  bool operator==(const LearnedZone&) const = default;
};
void visit_fields(auto& f, Of<LearnedZone> auto& s) {
  f.type("LearnedZone", "how much was seen of zones of a kind");
  f("zone", s.zone);
  f("looks", s.looks, AtLeast{0});
  f("pieces", s.pieces, AtLeast{0});
}

struct LearnedView {
  std::optional<Time> since;  // what was seen before it does not count
  int looks = 0, pieces = 0;
  models::Quantiles water;  // that the hands leave, against the usual
  models::Quantiles eye;    // of the water that these eyes call wet and clear, against the usual
  double unlike = 1.0;      // by what factor one zone's water differs from the next one's, usually
  std::vector<LearnedZone> zones;
  std::vector<LearnedFilm> films;  // of which anything was seen
  bool operator==(const LearnedView&) const = default;
};
void visit_fields(auto& f, Of<LearnedView> auto& s) {
  f.type("Learned", "what the shop has shown: factors against what is usual, with a range of 80 %");
  f.optional("since", s.since, "what was seen before it does not count");
  f("looks", s.looks, AtLeast{0}, "signs that count");
  f("pieces", s.pieces, AtLeast{0});
  f("water", s.water, "that the hands leave, against the usual");
  f("eye", s.eye, "of the water that these eyes call wet and clear, against the usual");
  f("unlike", s.unlike, "by what factor one zone's water differs from the next one's, usually");
  f("zones", s.zones);
  f("films", s.films, "of which anything was seen");
}

}  // namespace dryclock
