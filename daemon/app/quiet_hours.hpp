// When alerts that are not urgent wait: the same hours of every local day. A night on which the clocks change
// is an hour shorter or longer, and its quiet hours with it.
#pragma once

#include <optional>

#include "base/local_time.hpp"
#include "config/config.hpp"

namespace dryclock::app {

class QuietTimes {
 public:
  struct Span {
    Time from, to;  // [from, to)
  };

  QuietTimes(std::optional<QuietHours> hours, LocalZone zone) : hours_(hours), zone_(zone) {}

  // The quiet hours that hold `t`.
  [[nodiscard]] std::optional<Span> at(Time t) const;
  // Those that ended last, at `t` or before.
  [[nodiscard]] std::optional<Span> ended_before(Time t) const;

 private:
  [[nodiscard]] Span on(Time t, int days_after) const;

  std::optional<QuietHours> hours_;
  LocalZone zone_;
};

}  // namespace dryclock::app
