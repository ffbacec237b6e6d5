#include "record/record.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace dryclock::record {

bool differs(double again, double kept) {
  constexpr double a_point = 0.01;
  return std::abs(again - kept) >= a_point;
}

bool differs(const StepEstimate& step) {
  constexpr std::chrono::minutes as_printed{1};
  const bool another_share = step.probability.has_value() != step.again.has_value() ||
                             (step.again && differs(*step.again, *step.probability));
  const bool another_time =
      step.announced.has_value() != step.again_announced.has_value() ||
      (step.announced && std::chrono::abs(*step.announced - *step.again_announced) >= as_printed);
  return step.kept && (another_share || another_time);
}

bool was_wet(const StepEstimate& step) {
  return step.still_wet.key == "limits.wet";
}

bool was_ready(const StepEstimate& step, double announce_level) {
  return step.announced || (!step.kept && step.probability && *step.probability >= announce_level);
}

std::vector<models::ZoneKind> zones_of(const PieceRecord& piece) {
  std::vector<models::ZoneKind> out;
  if (piece.history.empty()) {
    std::ranges::transform(piece.summary.state.zones, std::back_inserter(out), &ZoneView::kind);
  } else {
    std::ranges::transform(piece.history.front().zones, std::back_inserter(out), &ZonePoint::kind);
  }
  return out;
}

}  // namespace dryclock::record
