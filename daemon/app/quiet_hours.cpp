#include "app/quiet_hours.hpp"

namespace dryclock::app {

QuietTimes::Span QuietTimes::on(Time t, int days_after) const {
  const bool over_midnight = hours_->from >= hours_->to;
  return {zone_.clock_on(t, days_after, hours_->from),
          zone_.clock_on(t, days_after + (over_midnight ? 1 : 0), hours_->to)};
}

std::optional<QuietTimes::Span> QuietTimes::at(Time t) const {
  for (int day = -1; hours_ && day <= 0; ++day) {
    if (const auto span = on(t, day); span.from <= t && t < span.to) {
      return span;
    }
  }
  return std::nullopt;
}

std::optional<QuietTimes::Span> QuietTimes::ended_before(Time t) const {
  for (int day = 0; hours_ && day >= -2; --day) {
    if (const auto span = on(t, day); span.to <= t) {
      return span;
    }
  }
  return std::nullopt;
}

}  // namespace dryclock::app
