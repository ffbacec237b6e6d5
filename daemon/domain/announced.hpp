// What was announced, as `announced` rows keep it: from then on it is so, whatever the estimate says in a
// replay. Nothing is judged again when a journal is read.
#pragma once

#include <vector>

#include "domain/event.hpp"
#include "domain/field.hpp"
#include "domain/types.hpp"
#include "models/milestone.hpp"

namespace dryclock {

enum class Word : std::uint8_t {
  look,        // worth a look: as likely as not, of a film or hands that nobody has confirmed yet
  ready,       // at the shop's level
  taken_back,  // neither, after all
};

struct Announcement {
  PieceId piece = 0;  // 0: the vehicle, whose milestone is may_leave
  models::Milestone which = models::Milestone::may_leave;
  Word word = Word::ready;
  double probability = 0.0;  // then
  bool operator==(const Announcement&) const = default;
};
void visit_fields(auto& f, Of<Announcement> auto& s) {
  f.type("Announcement", "what was said of a milestone");
  f("piece", s.piece, AtLeast{0}, "0: the vehicle");
  f("which", s.which);
  f("word", s.word);
  f("probability", s.probability, chance, "then");
}

// A row's payload; its topic is shown_topic(vehicle) as that of `shown` rows.
struct Announced {
  VehicleId vehicle = 0;
  Time at;
  std::vector<Announcement> announcements;
  bool operator==(const Announced&) const = default;
};
void visit_fields(auto& f, Of<Announced> auto& s) {
  f.type("Announced", "what was announced of a vehicle");
  f("vehicle", s.vehicle, numbered);
  f("at", s.at);
  f("announcements", s.announcements);
}

}  // namespace dryclock
