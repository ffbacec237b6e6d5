#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "models/panel_heat.hpp"

using namespace dryclock::models;

namespace {

Surroundings air_at(double celsius, double heat = 0.0) {
  Surroundings s;
  s.air = Celsius{celsius};
  s.humidity = Humidity{0.5};
  s.absorbed_heat = heat;
  return s;
}

PanelThermal door() {
  PanelThermal p;
  p.body_heat_capacity = 20'000.0;
  p.body_transfer = HeatTransfer{3.0};
  return p;
}

// The same two equations by classical Runge-Kutta, in very small steps.
PanelState by_runge_kutta(PanelState s, const PanelThermal& p, const Surroundings& from,
                          const Surroundings& to, double duration) {
  const int steps = 20'000;
  const double h = duration / steps;
  const auto rate = [&](double t, std::array<double, 2> y) {
    const double k = t / duration;
    const double t_air = from.air.value() + k * (to.air - from.air).value();
    const double q = from.absorbed_heat + k * (to.absorbed_heat - from.absorbed_heat);
    const double to_body = p.body_transfer.value() * (y[1] - y[0]);
    return std::array{(p.sides * p.transfer.value() * (t_air - y[0]) + q + to_body) / p.heat_capacity,
                      -to_body / p.body_heat_capacity};
  };
  std::array<double, 2> y{s.sheet_c, s.body_c};
  const auto moved = [&](const std::array<double, 2>& k, double by) {
    return std::array{y[0] + by * k[0], y[1] + by * k[1]};
  };
  for (int i = 0; i < steps; ++i) {
    const double t = i * h;
    const auto k1 = rate(t, y);
    const auto k2 = rate(t + h / 2, moved(k1, h / 2));
    const auto k3 = rate(t + h / 2, moved(k2, h / 2));
    const auto k4 = rate(t + h, moved(k3, h));
    for (std::size_t j = 0; j < 2; ++j) {
      y[j] += h / 6 * (k1[j] + 2 * k2[j] + 2 * k3[j] + k4[j]);
    }
  }
  return {y[0], y[1]};
}

}  // namespace

TEST_SUITE_BEGIN("panel_heat");

TEST_CASE("sheet and body follow a ramp of air and of lamp heat as the equations say") {
  for (const double duration : {10.0, 600.0, 14'400.0}) {
    CAPTURE(duration);
    const PanelState start{5.0, 8.0};
    const auto from = air_at(18.0, 50.0), to = air_at(23.0, 300.0);
    const PanelState exact = advance(start, door(), from, to, Seconds{duration});
    const PanelState numeric = by_runge_kutta(start, door(), from, to, duration);
    CHECK(exact.sheet_c == doctest::Approx(numeric.sheet_c).epsilon(1e-9));
    CHECK(exact.body_c == doctest::Approx(numeric.body_c).epsilon(1e-9));
  }
}

TEST_CASE("two half steps are one step") {
  const auto a = air_at(10.0, 20.0), b = air_at(15.0, 60.0), c = air_at(20.0, 100.0);
  PanelThermal bare;
  for (const auto& panel : {door(), bare}) {
    const PanelState whole = advance({2.0, 4.0}, panel, a, c, Seconds{600.0});
    const PanelState half = advance({2.0, 4.0}, panel, a, b, Seconds{300.0});
    const PanelState both = advance(half, panel, b, c, Seconds{300.0});
    CHECK(both.sheet_c == doctest::Approx(whole.sheet_c).epsilon(1e-12));
    CHECK(both.body_c == doctest::Approx(whole.body_c).epsilon(1e-12));
  }
}

TEST_CASE("a panel settles at the air's temperature, and above it by q/(n h) under a lamp") {
  const Seconds long_time{20 * 86'400.0};
  const PanelState cold = advance({-5.0, -5.0}, door(), air_at(21.0), air_at(21.0), long_time);
  CHECK(cold.sheet_c == doctest::Approx(21.0));
  CHECK(cold.body_c == doctest::Approx(21.0));
  const PanelState lit = advance({21.0, 21.0}, door(), air_at(21.0, 240.0), air_at(21.0, 240.0), long_time);
  CHECK(lit.sheet_c == doctest::Approx(21.0 + 240.0 / 8.0));
  CHECK(lit.body_c == doctest::Approx(lit.sheet_c));
}

TEST_CASE("a measured panel replaces the sheet, and warms the body") {
  auto from = air_at(21.0), to = air_at(21.0);
  to.panel_c = 35.0;
  const PanelState first = advance({21.0, 21.0}, door(), from, to, Seconds{60.0});
  CHECK(first.sheet_c == 35.0);
  from.panel_c = 35.0;
  const PanelState later = advance(first, door(), from, to, Seconds{3600.0});
  CHECK(later.sheet_c == 35.0);
  CHECK(later.body_c > first.body_c);
  CHECK(later.body_c < 35.0);
}

TEST_CASE("moving air couples the panel more closely") {
  auto from = air_at(30.0), to = air_at(30.0);
  const PanelThermal panel;
  const double still = advance({20.0, 20.0}, panel, from, to, Seconds{120.0}).sheet_c;
  to.air_speed = 2.0;
  CHECK(advance({20.0, 20.0}, panel, from, to, Seconds{120.0}).sheet_c > still);
  CHECK(transfer_in_moving_air(HeatTransfer{8.0}, 0.0).value() == 8.0);
}

TEST_SUITE_END();
