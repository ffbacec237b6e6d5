// Water on the production path: what leaves through the film's face, summed here from the modes' flux at that
// face, against what layer and film lose. The path itself never works that flux out: the liquid falls by the
// flux at the other face.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <random>

#include "drying_cases.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double balance = 1e-10;  // of the first water

Lanes all(double value) {
  return ZoneRun::all(value);
}

// Nodes and weights over 0..1 (Gauss-Legendre; Newton on the polynomial's recurrence).
struct Gauss {
  static constexpr std::size_t count = 48;
  std::array<double, count> node{}, weight{};
  Gauss() {
    for (std::size_t i = 0; i < count; ++i) {
      double x = std::cos(std::numbers::pi * (static_cast<double>(i) + 0.75) / (count + 0.5)), slope = 1.0;
      for (int round = 0; round < 8; ++round) {
        double last = 1.0, now = x;
        for (std::size_t n = 2; n <= count; ++n) {
          const auto order = static_cast<double>(n);
          const double next = ((2.0 * order - 1.0) * x * now - (order - 1.0) * last) / order;
          last = now;
          now = next;
        }
        slope = count * (x * now - last) / (x * x - 1.0);
        x -= now / slope;
      }
      node[i] = 0.5 * (1.0 + x);
      weight[i] = 1.0 / ((1.0 - x * x) * slope * slope);
    }
  }
};
const Gauss gauss;

// A zone of equal members without alcohol or margin, and the account of its water.
class Account {
 public:
  Account(const FilmStack& stack, const WaterLayer& layer, double water, const Surroundings& at_lay)
      : modes_(film_modes(stack, still_bay)),
        now_(sense(at_lay)),
        layer_(layer),
        zone_(modes_, layer, all(water), 0.0, now_.activity, 0.0),
        first_(water + modes_.capacity * now_.activity) {
    // At lay the liquid's activity goes from a_out to 1. What the modes left out hold of a profile is there
    // at once; the part that layer and film do not account for has come through the face.
    outer_outer_rest_ = modes_.capacity - modes_.inner_content - modes_.inner_outer;  // <xi, xi>
    dry_rest_ = modes_.capacity;
    for (std::size_t k = 0; k < wet_modes; ++k) outer_outer_rest_ -= modes_.outer[k] * modes_.outer[k];
    for (const double content : modes_.dry_content) dry_rest_ -= content * content;
    evaporated_ = -(1.0 - now_.activity) * modes_.inner_outer_rest;
  }

  // Constant air, reached by a jump. Layers that are whole, or gone: every mode is an exponential of time.
  void hold(const Surroundings& air, double seconds) {
    jump_to(sense(air));
    const double film_rate = film_time();
    const WetField wet = after_jump_;
    const DryField dry = dry_after_jump_;
    for (std::size_t i = 0; i < Gauss::count; ++i) {
      const double passed = gauss.node[i] * seconds * film_rate;
      double flux = 0.0;  // g/(m2 s)
      if (!gone()) {
        flux += (1.0 - now_.activity) * thermal_rate(now_, 1.0) / modes_.resistance;
        for (std::size_t k = 0; k < wet_modes; ++k) {
          flux += film_rate * modes_.wet_rate[k] * modes_.outer[k] * wet[k][0] *
                  std::exp(-modes_.wet_rate[k] * passed);
        }
      } else {
        for (std::size_t j = 0; j < dry_modes; ++j) {
          flux += film_rate * modes_.dry_rate[j] * modes_.dry_content[j] * dry[j][0] *
                  std::exp(-modes_.dry_rate[j] * passed);
        }
      }
      evaporated_ += gauss.weight[i] * seconds * flux;
    }
    step(now_, now_, now_, seconds);
  }

  // A ramp, by the integral of each mode's own equation, rate c = -dc/dtau - outer da_eff/dtau. Whole layers.
  void ramp(const Surroundings& from, const Surroundings& to, double seconds) {
    jump_to(sense(from));
    const WetField before = after_jump_;
    const double outer_before = zone_outer();
    const Instant begin = now_;
    now_ = sense(to);
    step(begin, sense(between(from, to, 0.5)), now_, seconds);
    const double moved = zone_outer() - outer_before;
    evaporated_ += (thermal_.span[0] - thermal_.imposed[0]) / modes_.resistance - moved * outer_outer_rest_;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      evaporated_ += modes_.outer[k] * (before[k][0] - zone_.wet_field()[k][0] - modes_.outer[k] * moved);
    }
  }

  // Through the break-up, in steps of constant air: the flux at each step's ends, by Simpson over two steps.
  void hold_through(const Surroundings& air, double hours, double seconds) {
    jump_to(sense(air));
    const auto pairs = static_cast<int>(hours * 1800.0 / seconds);
    for (int i = 0; i < pairs; ++i) {
      const double first = flux_now();
      step(now_, now_, now_, seconds);
      const double middle = flux_now();
      step(now_, now_, now_, seconds);
      evaporated_ += seconds / 3.0 * (first + 4.0 * middle + flux_now());
    }
  }

  // What is missing. [g/m2]
  [[nodiscard]] double missing() const { return first_ - zone_.water()[0] - film() - evaporated_; }
  [[nodiscard]] bool whole() const { return layer_.log_wetted(zone_.liquid()[0]) == 0.0; }
  [[nodiscard]] bool gone() const { return layer_.log_wetted(zone_.liquid()[0]) < -23.0; }
  [[nodiscard]] double evaporated() const { return evaporated_; }
  // Starts a new account from what is there now.
  void start_again() {
    first_ = zone_.water()[0] + film();
    evaporated_ = 0.0;
  }

 private:
  [[nodiscard]] Instant sense(const Surroundings& s) const {
    return instant(modes_, std::isnan(s.panel_c) ? s.air : Celsius{s.panel_c}, s.air, s.humidity, still_bay);
  }
  [[nodiscard]] double film() const { return zone_.excess(modes_)[0] + modes_.capacity * now_.activity; }
  [[nodiscard]] double film_time() const { return now_.saturation * (1.0 - modes_.air_share) / now_.film; }
  // a_eff by its definition: the activity outside that drives the true steady flux in the film's own time.
  [[nodiscard]] double zone_outer() const {
    return 1.0 - (1.0 - now_.activity) * thermal_rate(now_, 1.0) / film_time();
  }

  void jump_to(const Instant& next) {
    const double last_seen = zone_.seen_outside()[0];
    const double activity = now_.activity;
    now_ = next;
    const double wet_jump = zone_outer() - last_seen;
    const double jump = next.activity - activity;
    after_jump_ = zone_.wet_field();
    dry_after_jump_ = zone_.dry_field();
    for (std::size_t k = 0; k < wet_modes; ++k) after_jump_[k][0] -= wet_jump * modes_.outer[k];
    for (std::size_t j = 0; j < dry_modes; ++j) dry_after_jump_[j][0] -= jump * modes_.dry_content[j];
    evaporated_ -= gone() ? jump * dry_rest_ : wet_jump * outer_outer_rest_;
  }
  void step(const Instant& begin, const Instant& middle, const Instant& end, double seconds) {
    prepare(thermal_, modes_, all(1.0), begin, middle, end, seconds);
    zone_.advance(modes_, thermal_, 0.0, 0.0, 0.0);
  }
  // Out of wet and dry columns together, and what columns release at once as they dry. [g/(m2 s)]
  [[nodiscard]] double flux_now() const {
    const double share = std::exp(layer_.log_wetted(zone_.liquid()[0]));
    const double outer = zone_.seen_outside()[0];
    const double steady = (1.0 - now_.activity) * thermal_rate(now_, 1.0) / modes_.resistance;
    double in = steady, out = steady, dry = 0.0;
    double holds = (1.0 - outer) * modes_.inner_content + (outer - now_.activity) * modes_.capacity;
    for (std::size_t k = 0; k < wet_modes; ++k) {
      const double amplitude = zone_.wet_field()[k][0];
      const double rate = film_time() * modes_.wet_rate[k];
      in -= rate * modes_.inner[k] * amplitude;
      out += rate * modes_.outer[k] * amplitude;
      holds += (modes_.inner[k] + modes_.outer[k]) * amplitude;
    }
    for (std::size_t j = 0; j < dry_modes; ++j) {
      double seen = (1.0 - outer) * modes_.dry_inner[j] + (outer - now_.activity) * modes_.dry_content[j];
      for (std::size_t k = 0; k < wet_modes; ++k) seen += modes_.cross[j][k] * zone_.wet_field()[k][0];
      holds -= modes_.dry_content[j] * seen;
      dry += film_time() * modes_.dry_rate[j] * modes_.dry_content[j] * zone_.dry_field()[j][0];
    }
    const double drying = whole() ? 0.0 : share * in / layer_.break_up;
    return share * out + dry + drying * holds;
  }

  FilmModes modes_;
  Instant now_;
  WaterLayer layer_;
  Zone zone_;
  ThermalStep thermal_;
  double first_, evaporated_ = 0.0;
  double outer_outer_rest_ = 0.0, dry_rest_ = 0.0;
  WetField after_jump_{};
  DryField dry_after_jump_{};
};

class AnyAir {
 public:
  explicit AnyAir(unsigned seed) : random_(seed) {}
  Surroundings operator()() {
    const double air_c = draw(8.0, 32.0);
    return air(air_c, draw(0.2, 0.7), air_c + draw(0.0, 4.0));
  }
  double draw(double low, double high) { return std::uniform_real_distribution<>{low, high}(random_); }

 private:
  std::mt19937 random_;
};

FilmStack stack_of(int number) {
  if (number == 0) return baseline();
  if (number == 1) return {{layer(150.0, 5e-14, 17.0)}, 0.5};
  return {{layer(30.0, 8e-14, 3.5), layer(210.0, 1e-13, 14.0), layer(25.0, 2e-15, 18.0)}, 0.5};
}

}  // namespace

TEST_SUITE_BEGIN("identities");

TEST_CASE("under a whole layer no water is lost or made: random steps and ramps of air, to 1e-10") {
  for (int number = 0; number < 3; ++number) {
    for (unsigned seed = 1; seed <= 8; ++seed) {
      CAPTURE(number);
      CAPTURE(seed);
      AnyAir any(seed);
      constexpr double water = 40.0;
      Account account(stack_of(number), patchy, water, any());
      for (int i = 0; i < 60; ++i) {
        CAPTURE(i);
        const double seconds = any.draw(5.0, 600.0);
        if (i % 2 == 0) {
          account.hold(any(), seconds);
        } else {
          const Surroundings from = any();
          account.ramp(from, any(), seconds);
        }
        REQUIRE(account.whole());
        CHECK(std::abs(account.missing()) < balance * water);
      }
      CHECK(account.evaporated() > 1.0);
    }
  }
}

TEST_CASE("after the liquid no water is lost or made: random steps of air, to 1e-10") {
  for (int number = 0; number < 3; ++number) {
    CAPTURE(number);
    AnyAir any(7);
    constexpr double water = 2.0;
    const Surroundings first = any();
    Account account(stack_of(number), patchy, water, first);
    account.hold_through(first, 400.0, 600.0);
    REQUIRE(account.gone());
    account.start_again();
    for (int i = 0; i < 60; ++i) {
      CAPTURE(i);
      account.hold(any(), any.draw(5.0, 600.0));
      CHECK(std::abs(account.missing()) < balance * water);
    }
  }
}

// While columns dry, their share within a step is taken to fall evenly in the logarithm: the balance is as
// good as that, to second order in the step.
TEST_CASE("while the layer breaks up the balance closes with the square of the step") {
  const Surroundings bay = air(21.0, 0.5);
  constexpr double water = 2.5;
  std::array<double, 3> missing{};
  for (std::size_t i = 0; i < missing.size(); ++i) {
    Account account(baseline(), patchy, water, bay);
    account.hold_through(bay, 2.0, 60.0);
    REQUIRE(!account.whole());
    account.start_again();
    account.hold_through(bay, 24.0, 60.0 / std::pow(2.0, static_cast<double>(i)));
    missing[i] = std::abs(account.missing()) / water;
    MESSAGE("steps of " << 60.0 / std::pow(2.0, static_cast<double>(i)) << " s: " << missing[i]);
  }
  CHECK(missing[0] < 1e-4);  // a fiftieth of what is asked of the water itself
  CHECK(missing[1] < 0.3 * missing[0]);
  CHECK(missing[2] < 0.3 * missing[1]);
}

TEST_SUITE_END();
