// The fields of a `shown` row, once: writer and reader both walk these lists. Names and units are for ever,
// as those of wire/setup_fields.hpp. `must` is always there; what `may` be there is left out where it is
// empty. A milestone is a list of `item`s, for most of the text is these: null where one is empty, cut after
// the last that is not.
#pragma once

#include <concepts>

#include "domain/shown.hpp"

namespace dryclock::wire {

template <class Given, class Wanted>
concept ShownOf = std::same_as<std::remove_const_t<Given>, Wanted>;

inline constexpr double per_mille = 1000.0;
inline constexpr double per_tenth = 10.0;  // of a g/m2

void visit_shown(auto& f, ShownOf<ShownMilestone> auto& s) {
  f.item_count(s.probability, per_mille);
  f.item(s.announced);
  f.item(s.expected.early);
  f.item(s.expected.likely);
  f.item(s.expected.late);
  f.item(s.limiting);
  f.item(s.held_by);
}
void visit_shown(auto& f, ShownOf<ShownPiece> auto& s) {
  f.must("id", s.piece);
  f.may("wrap", s.milestones[0]);
  f.may("trim", s.milestones[1]);
  f.may("refit", s.milestones[2]);
  f.may("dry", s.milestones[3]);
  f.may_count("water", s.water, per_tenth);
  f.may_count("bond", s.bond, per_mille);
}
void visit_shown(auto& f, ShownOf<ShownVehicle> auto& s) {
  f.must("id", s.vehicle);
  f.may("release", s.release);
  f.may_count("hand_over", s.hand_over_probability, per_mille);
  f.may("pieces", s.pieces);
}
void visit_shown(auto& f, ShownOf<ShownAlert> auto& s) {
  f.must("rule", s.rule);
  f.must("subject", s.subject);
  f.must("step", s.step);
  f.may("level", s.level);
  f.may("text", s.text);
}
void visit_shown(auto& f, ShownOf<ShownDelivery> auto& s) {
  f.must("channel", s.channel);
  f.must("alert", s.alert);
  f.may("given_up", s.given_up);
}
void visit_shown(auto& f, ShownOf<Shown> auto& s) {
  f.must("why", s.why);
  f.must("at", s.at);  // before any other time: they count from it
  f.may("vehicle", s.vehicle);
  f.may("alerts", s.alerts);
  f.may("deliveries", s.deliveries);
}

}  // namespace dryclock::wire
