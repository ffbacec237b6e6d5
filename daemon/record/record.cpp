#include "record/record.hpp"

#include <cmath>

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

bool was_ready(const StepEstimate& step, double announce_level) {
  return step.announced || (!step.kept && step.probability && *step.probability >= announce_level);
}

}  // namespace dryclock::record
