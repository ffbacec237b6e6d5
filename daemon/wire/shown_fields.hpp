// The fields of a `shown` row, once: writer and reader both walk these lists. Names, places and units are for
// ever, as those of domain/setup_fields.hpp. A row is an object: `must` is always there; what `may` be there
// is left out where it is empty. All else is lists, for most of the text is these: null (among the `part`s of
// a piece: 0) where one is empty, cut after the last that is not.
#pragma once

#include "domain/shown.hpp"
#include "wire/marks.hpp"

namespace dryclock::wire {

inline constexpr double per_mille = 1000.0;
inline constexpr double per_tenth = 10.0;  // of a g/m2

void visit_shown(auto& f, Of<Spread> auto& s) {
  f.item(s.early);
  f.item(s.likely);
  f.item(s.late);
}
void visit_shown(auto& f, Of<ShownMilestone> auto& s) {
  f.count(s.probability, per_mille);
  f.either(s.announced, s.expected);
  f.item(s.limiting);
  f.item(s.held_by);
  f.item(s.look);
  f.item_if(s.by_word);
}
void visit_shown(auto& f, Of<ShownPiece> auto& s) {
  using enum models::Milestone;
  const auto part = [&](models::Milestone which) { f.part(s.milestones[static_cast<std::size_t>(which)]); };
  f.sure(s.piece);
  part(wrap_ready);
  part(trim_ready);
  part(refit_ready);
  part(clear);  // in rows of before there were so many: "dry"
  f.part_counts(s.water, per_tenth);
  f.part_counts(s.bond, per_mille);
  part(liquid_gone);
  part(may_leave);
}
void visit_shown(auto& f, Of<ShownAlert> auto& s) {
  f.sure(s.step);
  f.sure(s.rule);
  f.sure(s.subject);
  f.item(s.level);
  f.item(s.text);
}
void visit_shown(auto& f, Of<ShownDelivery> auto& s) {
  f.sure(s.channel);
  f.sure(s.alert);
  f.item(s.given_up);
}
void visit_shown(auto& f, Of<ShownVehicle> auto& s) {
  f.may("release", s.release);
  f.may_count("hand_over", s.hand_over_probability, per_mille);
  f.may("pieces", s.pieces);
}
void visit_shown(auto& f, Of<Shown> auto& s) {
  f.may_unless(ShownWhy::hourly, "why", s.why);
  f.must("at", s.at);  // before any other time: they count from it
  if (s.vehicle) {
    visit_shown(f, *s.vehicle);
  }
  f.may("alerts", s.alerts);
  f.may("deliveries", s.deliveries);
}

}  // namespace dryclock::wire
