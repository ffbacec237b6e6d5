#include "models/panel_heat.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {
namespace {

// y' = rate y + g0 + g1 t over t, exactly: y e^z + i1 g0 + i2 g1, z = rate t. i1 and i2 by series near zero,
// where the quotients lose their digits; by the rate beyond, so that no length of step overflows.
double linear_drive(double y, double rate, double g0, double g1, double t) {
  const double z = rate * t;
  const bool small = std::abs(z) < 1e-3;
  const double i1 = small ? t * (1.0 + z * (0.5 + z * (1.0 / 6.0 + z / 24.0))) : std::expm1(z) / rate;
  const double i2 = small ? t * t * (0.5 + z * (1.0 / 6.0 + z * (1.0 / 24.0 + z / 120.0))) : (i1 - t) / rate;
  return y * std::exp(z) + i1 * g0 + i2 * g1;
}

// A body that follows the sheet within a second is no second node.
bool has_a_body(const PanelThermal& panel) {
  return panel.body_transfer.value() > 0.0 && panel.body_heat_capacity >= panel.body_transfer.value() * 1.0;
}

}  // namespace

HeatTransfer transfer_in_moving_air(HeatTransfer still, double air_speed) {
  const double speed = air_speed > 0.0 ? std::min(air_speed, 10.0) : 0.0;
  return still + HeatTransfer{4.0 * speed};
}

PanelState advance(const PanelState& state, const PanelThermal& panel, const Surroundings& from,
                   const Surroundings& to, Seconds duration) {
  const double t = duration.value();
  const bool has_body = has_a_body(panel);
  const double body_rate = has_body ? panel.body_transfer.value() / panel.body_heat_capacity : 0.0;

  if (!std::isnan(to.panel_c)) {
    const double start = std::isnan(from.panel_c) ? state.sheet_c : from.panel_c;
    const double slope = (to.panel_c - start) / t;
    const double body = has_body
                            ? linear_drive(state.body_c, -body_rate, body_rate * start, body_rate * slope, t)
                            : to.panel_c;
    return {to.panel_c, body};
  }

  const double per_degree = panel.sides * transfer_in_moving_air(panel.transfer, to.air_speed).value();
  const double capacity = panel.heat_capacity;
  const double drive0 = (per_degree * from.air.value() + from.absorbed_heat) / capacity;
  const double drive1 =
      (per_degree * (to.air - from.air).value() + to.absorbed_heat - from.absorbed_heat) / (capacity * t);
  if (!has_body) {
    const double sheet = linear_drive(state.sheet_c, -per_degree / capacity, drive0, drive1, t);
    return {sheet, sheet};
  }

  // x' = [[-a, b], [c, -c]] x + (g, 0): two real, distinct rates since b c > 0. Each left eigenvector (c,
  // rate + a) turns the pair into one scalar equation.
  const double a = (per_degree + panel.body_transfer.value()) / capacity;
  const double b = panel.body_transfer.value() / capacity;
  const double c = body_rate;
  const double root = std::hypot(0.5 * (a - c), std::sqrt(b * c));
  const double fast = -0.5 * (a + c) - root;
  const double slow =
      c * (per_degree / capacity) / fast;  // the rates' product is the determinant: no cancellation
  const auto mode = [&](double rate) {
    return linear_drive(state.sheet_c + (rate + a) / c * state.body_c, rate, drive0, drive1, t);
  };
  const double slow_mode = mode(slow);
  const double fast_mode = mode(fast);
  const double body = (slow_mode - fast_mode) * c / (slow - fast);
  return {fast_mode - (fast + a) / c * body, body};
}

}  // namespace dryclock::models
