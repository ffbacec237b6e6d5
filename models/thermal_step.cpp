#include "models/thermal_step.hpp"

#include <algorithm>

namespace dryclock::models {
namespace {

// Over z = rate * span: e^-z; Integral over x in 0..1 of e^-z(1-x) and of e^-z(1-x) (2x - 1). By series where
// the quotients lose their digits.
struct Response {
  double decay, even, tilted;
};

[[gnu::always_inline]] inline Response respond(double z) {
  const double decay = lane_exp(-z);
  const bool small = z < 0.02;
  const double safe = small ? 1.0 : z;
  const double even_far = (1.0 - decay) / safe;
  const double tilted_far = 2.0 * (1.0 - even_far) / safe - even_far;
  const double even_near =
      1.0 - z * (1.0 / 2.0 - z * (1.0 / 6.0 - z * (1.0 / 24.0 - z * (1.0 / 120.0 - z / 720.0))));
  const double tilted_near = z * (1.0 / 6.0 - z * (1.0 / 12.0 - z * (1.0 / 40.0 - z / 180.0)));
  return {decay, small ? even_near : even_far, small ? tilted_near : tilted_far};
}

DRYCLOCK_LANE_LOOPS void respond_all(const Lanes& span, double rate, double projection, double change,
                                     double bend, Lanes& decay, Lanes& drive) {
  for (std::size_t m = 0; m < members; ++m) {
    const Response r = respond(rate * span[m]);
    decay[m] = r.decay;
    drive[m] = projection * (change * r.even + bend * r.tilted);
  }
}

DRYCLOCK_LANE_LOOPS void integrate(const Lanes& factor, const Instant& begin, const Instant& middle,
                                   const Instant& end, double seconds, Lanes& span, Lanes& imposed) {
  const double sixth = seconds / 6.0;
  for (std::size_t m = 0; m < members; ++m) {
    const double t0 = sixth * thermal_rate(begin, factor[m]);
    const double t1 = 4.0 * sixth * thermal_rate(middle, factor[m]);
    const double t2 = sixth * thermal_rate(end, factor[m]);
    span[m] = t0 + t1 + t2;
    imposed[m] = t0 * begin.activity + t1 * middle.activity + t2 * end.activity;
  }
}

}  // namespace

void prepare(ThermalStep& step, const FilmModes& modes, const Lanes& factor, const Instant& begin,
             const Instant& middle, const Instant& end, double seconds) {
  step.activity_before = begin.activity;
  step.activity_after = end.activity;
  step.highest_activity = std::max({begin.activity, middle.activity, end.activity});
  integrate(factor, begin, middle, end, seconds, step.span, step.imposed);

  // a_out(x) = before + change x + bend x (x - 1) through the middle, which lies at x in thermal time.
  const double r0 = thermal_rate(begin, 1.0);
  const double r1 = thermal_rate(middle, 1.0);
  const double r2 = thermal_rate(end, 1.0);
  const double x = (5.0 * r0 + 8.0 * r1 - r2) / (4.0 * (r0 + 4.0 * r1 + r2));
  const double change = end.activity - begin.activity;
  const double bend = (middle.activity - begin.activity - change * x) / (x * (x - 1.0));

  for (std::size_t k = 0; k < wet_modes; ++k) {
    respond_all(step.span, modes.wet_rate[k], modes.outer[k], change, bend, step.wet_decay[k],
                step.wet_drive[k]);
  }
  for (std::size_t j = 0; j < dry_modes; ++j) {
    respond_all(step.span, modes.dry_rate[j], modes.dry_content[j], change, bend, step.dry_decay[j],
                step.dry_drive[j]);
  }
}

}  // namespace dryclock::models
