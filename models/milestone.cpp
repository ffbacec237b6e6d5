#include "models/milestone.hpp"

namespace dryclock::models {

ZoneAsks asks_of(const Thresholds& thresholds, Milestone which, ZoneKind kind, bool has_edge,
                 bool has_field) {
  const Thresholds& t = thresholds;
  const bool margin = kind == ZoneKind::edge || !has_edge;
  const bool holds = kind == ZoneKind::field || !has_field;
  switch (which) {
    case Milestone::liquid_gone:
      return {.wet_share = t.gone_wet};
    case Milestone::wrap_ready:
      return {.wet_share = margin ? t.gone_wet : 1.0,
              .excess = margin ? t.wrap_excess : 1.0,
              .bond = holds ? t.wrap_bond : 0.0};
    case Milestone::trim_ready:
      return margin ? ZoneAsks{.wet_share = t.gone_wet, .excess = t.trim_excess, .bond = t.trim_bond}
                    : ZoneAsks{};
    case Milestone::refit_ready:
      return {.wet_share = t.gone_wet, .bond = t.refit_bond};
    case Milestone::clear:
      return {.wet_share = t.clear_wet};
    case Milestone::may_leave:
      return margin ? ZoneAsks{.wet_share = t.clear_wet, .bond = t.leave_bond}
                    : ZoneAsks{.wet_share = t.pocket_wet};
  }
  return {};
}

}  // namespace dryclock::models
