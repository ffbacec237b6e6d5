#include "models/air_steps.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/air_block.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "models/safe_input.hpp"

namespace dryclock::models {
namespace {

constexpr double longest_step = 600.0;    // s, of one quadrature
constexpr double finest_step = 60.0;      // s
constexpr double change_per_step = 0.5;   // K, of air or panel
constexpr double hottest_routine = 60.0;  // C, of a panel (physics.md: routine cap)

}  // namespace

AirSteps::AirSteps(const PanelThermal& thermal, Celsius panel, const Surroundings& now)
    : thermal_(made_safe(thermal)), validity_(out_of_range(now)) {
  const Surroundings air = made_safe(now);
  const double panel_c = safe_number(panel.value(), coldest.value(), hottest.value(), air.air.value());
  panel_.sheet_c = panel_.body_c = std::isnan(air.panel_c) ? panel_c : air.panel_c;
}

void AirSteps::flag_panel(const Surroundings& air) {
  if (panel_.sheet_c > hottest_routine) validity_ |= panel_too_hot;
  if (activity_at_panel(Celsius{panel_.sheet_c}, air.air, air.humidity) >= 1.0) validity_ |= condensing;
}

void AirSteps::interval(const Surroundings& from, const Surroundings& to, Seconds duration,
                        const Take& take) {
  validity_ = static_cast<std::uint8_t>(out_of_range(from) | out_of_range(to));
  Surroundings start = made_safe(from);
  const Surroundings end = made_safe(to);
  if (std::isnan(start.panel_c)) start.panel_c = panel_.sheet_c;
  if (std::isnan(end.panel_c)) start.panel_c = std::numeric_limits<double>::quiet_NaN();

  // Fine enough that neither the air nor the panel moves far within one quadrature.
  const double seconds = duration.value();
  const double end_c = advance(panel_, thermal_, start, end, duration).sheet_c;
  const double moved = std::max({std::abs((end.air - start.air).value()), std::abs(end_c - panel_.sheet_c),
                                 20.0 * std::abs((end.humidity - start.humidity).value())});
  const double wanted = std::min(seconds / finest_step, moved / change_per_step);
  const auto steps = static_cast<int>(std::ceil(std::max({1.0, seconds / longest_step, wanted})));
  AirStep step{start, {}, {}, 0.0, 0.0, 0.0, seconds / steps};
  for (int i = 1; i <= steps; ++i) {
    step.end = between(start, end, static_cast<double>(i) / steps);
    step.middle = between(step.begin, step.end, 0.5);
    step.begin_c = panel_.sheet_c;
    step.middle_c = advance(panel_, thermal_, step.begin, step.middle, Seconds{0.5 * step.seconds}).sheet_c;
    panel_ = advance(panel_, thermal_, step.begin, step.end, Seconds{step.seconds});
    step.end_c = panel_.sheet_c;
    take(step);
    step.begin = step.end;
  }
  flag_panel(end);
}

std::size_t AirSteps::block(std::span<const Surroundings> points, Seconds spacing, Seconds longest,
                            const Take& take) {
  AirBlock block(points.front(), panel_, thermal_, longest);
  const std::size_t taken = block.gather(points, spacing);
  if (taken < 2) return 0;
  const double begin_c = std::isnan(points.front().panel_c) ? panel_.sheet_c : points.front().panel_c;
  const Surroundings middle = block.middle();
  panel_ = block.panel();
  take({block.begin(), middle, block.end(), begin_c, middle.panel_c, panel_.sheet_c,
        block.duration().value()});
  validity_ = valid;
  flag_panel(block.end());
  return taken;
}

void AirSteps::through(std::span<const Surroundings> points, Seconds spacing, Seconds longest,
                       const Take& take) {
  while (points.size() > 1) {
    std::size_t taken = block(points, spacing, longest, take);
    if (taken == 0) {
      interval(points[0], points[1], spacing, take);
      taken = 1;
    }
    points = points.subspan(taken);
  }
}

}  // namespace dryclock::models
