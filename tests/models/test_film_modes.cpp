#include "models/film_modes.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "drying_cases.hpp"
#include "models/coupon.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "models/shop_levels.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double pi = std::numbers::pi;
// No resistance outside the film.
constexpr MetresPerSecond gale{1e9};

}  // namespace

TEST_SUITE_BEGIN("published");

// Crank, The Mathematics of Diffusion, section 4.3: a sheet of thickness L with both faces held has rates
// D (n pi/L)^2; tight on one side, D ((2n - 1) pi/2L)^2. The shares of the content that each mode carries are
// 8/((2n - 1)^2 pi^2) (eq 4.18).
TEST_CASE("modes of a single sheet are Crank's [Crank1975: equation 4.18]") {
  const FilmStack one{{layer(150.0, 5e-14, 17.0)}, 0.5};
  const FilmModes modes = film_modes(one, gale);
  const double diffusivity = 5e-14 * saturation_pressure(Celsius{21.0}).value() / 17.0;
  const double unit = diffusivity / (150e-6 * 150e-6);
  const double capacity = 17e3 * 150e-6;
  CHECK(modes.capacity == about(capacity, 1e-12));
  for (std::size_t k = 0; k < wet_modes; ++k) {
    const double n = static_cast<double>(k + 1);
    CHECK(modes.wet_rate[k] == about(unit * n * n * pi * pi, 1e-7));
    // <sin(n pi x/L), 1 - x/L>^2 = 2 capacity/(n pi)^2
    CHECK(modes.inner[k] * modes.inner[k] == about(2.0 * capacity / (n * n * pi * pi), 1e-7));
  }
  for (std::size_t j = 0; j < dry_modes; ++j) {
    const double odd = static_cast<double>(2 * j + 1);
    CHECK(modes.dry_rate[j] == about(unit * odd * odd * pi * pi / 4.0, 1e-7));
    CHECK(modes.dry_content[j] * modes.dry_content[j] / capacity == about(8.0 / (odd * odd * pi * pi), 1e-7));
  }
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("identities");

TEST_CASE("resistance and storage of the baseline stack by hand") {
  const FilmModes modes = film_modes(baseline(), still_bay);
  const double saturated = saturation_pressure(Celsius{21.0}).value();
  // 1.333e9 + 3.000e9 + 1.000e9 + R_v T/h_m, over p_sat, in grams
  const double outside = 461.5 * 294.15 / 2.3e-3;
  const double expected = (40e-6 / 3e-14 + 150e-6 / 5e-14 + 10e-6 / 1e-14 + outside) / saturated / 1000.0;
  CHECK(modes.resistance == about(expected, 1e-12));
  CHECK(modes.capacity == about(4.5e3 * 40e-6 + 17e3 * 150e-6 + 15e3 * 10e-6, 1e-12));
  CHECK(modes.air_share == about(outside / saturated / 1000.0 / expected, 1e-12));
}

// Parseval: projections onto a complete basis add up to the whole product. What is missing is the tail, which
// falls as 1/n of the modes kept.
TEST_CASE("a few modes hold nearly all") {
  for (const double adhesive : {1.5e-14, 3e-14, 1e-13}) {
    for (const double topcoat : {2e-15, 1e-14, 3e-14}) {
      FilmStack stack = baseline();
      stack.layers[0].permeability = Permeability{adhesive};
      stack.layers[2].permeability = Permeability{topcoat};
      const FilmModes modes = film_modes(stack, still_bay);
      double inner = 0.0, outer = 0.0, content = 0.0;
      for (std::size_t k = 0; k < wet_modes; ++k) {
        inner += modes.inner[k] * modes.inner[k];
        outer += modes.inner[k] * modes.outer[k];
      }
      for (std::size_t j = 0; j < dry_modes; ++j) {
        content += modes.dry_content[j] * modes.dry_content[j];
      }
      CHECK(inner <= modes.inner_inner);
      CHECK(inner > 0.93 * modes.inner_inner);
      CHECK(outer == about(modes.inner_outer, 0.02));
      CHECK(content <= modes.capacity);
      CHECK(content > 0.95 * modes.capacity);
      for (std::size_t k = 1; k < wet_modes; ++k) {
        CHECK(modes.wet_rate[k] > modes.wet_rate[k - 1]);
      }
      for (std::size_t j = 1; j < dry_modes; ++j) {
        CHECK(modes.dry_rate[j] > modes.dry_rate[j - 1]);
      }
    }
  }
}

// A wet mode written in dry modes keeps its length.
TEST_CASE("the two bases describe the same field") {
  const FilmModes modes = film_modes(baseline(), still_bay);
  for (std::size_t k = 0; k < 3; ++k) {
    double length = 0.0;
    for (std::size_t j = 0; j < dry_modes; ++j) {
      length += modes.cross[j][k] * modes.cross[j][k];
    }
    CHECK(length < 1.0 + 1e-9);
    CHECK(length > 0.95);
  }
}

TEST_CASE("thermal time runs at theta where all layers share one activation energy") {
  FilmModes modes = film_modes(baseline(), gale);
  for (const double t : {-5.0, 5.0, 16.0, 21.0, 35.0, 60.0}) {
    const Instant now = instant(modes, Celsius{t}, Celsius{t}, Humidity{0.4}, gale);
    const double paced = pace(Celsius{t}, Celsius{t}, Humidity{0.4});
    CHECK(thermal_rate(now, 1.0) * (1.0 - now.activity) / 0.5 == about(paced, 1e-6));
    CHECK(thermal_rate(now, 2.0) == about(0.5 * thermal_rate(now, 1.0), 1e-6));
  }
}

TEST_CASE("dew outside the film is activity 1, not more") {
  const FilmModes modes = film_modes(baseline(), still_bay);
  CHECK(instant(modes, Celsius{5.0}, Celsius{25.0}, Humidity{0.8}, still_bay).activity == 1.0);
}

TEST_CASE("layers outside any known material are clamped and flagged") {
  FilmStack stack = baseline();
  CHECK(film_modes(stack, still_bay).validity == valid);
  stack.layers[1].permeability = Permeability{0.0};
  CHECK(film_modes(stack, still_bay).validity == film_out_of_range);
  CHECK(std::isfinite(film_modes(stack, still_bay).resistance));
  stack.layers.clear();
  CHECK(film_modes(stack, still_bay).validity == film_out_of_range);
}

TEST_SUITE_END();
TEST_SUITE_BEGIN("practice");

// Assumptions, a factor of ten or more around what films and adhesives are known to be: 1 um to 3 mm; 1e-17
// (metal) to 1e-11 kg/(m s Pa) (a hundred times polyurethane); 0.01 to 300 kg/m3; -30 to 80 kJ/mol.
TEST_CASE("a sheet's figures are flagged beyond any material known, and not before") {
  const auto flagged = [](const Layer& sheet) {
    std::uint8_t validity = valid;
    static_cast<void>(clamped(FilmStack{{sheet}, 0.5}, validity));
    return (validity & film_out_of_range) != 0;
  };
  for (const Layer& within :
       {layer(1.0, 5e-14, 17.0), layer(3000.0, 5e-14, 17.0), layer(150.0, 1e-17, 17.0),
        layer(150.0, 1e-11, 17.0), layer(150.0, 5e-14, 0.01), layer(150.0, 5e-14, 300.0),
        layer(150.0, 5e-14, 17.0, -30e3), layer(150.0, 5e-14, 17.0, 80e3)}) {
    CHECK_FALSE(flagged(within));
  }
  for (const Layer& beyond :
       {layer(0.9, 5e-14, 17.0), layer(3300.0, 5e-14, 17.0), layer(150.0, 0.9e-17, 17.0),
        layer(150.0, 1.1e-11, 17.0), layer(150.0, 5e-14, 0.009), layer(150.0, 5e-14, 330.0),
        layer(150.0, 5e-14, 17.0, -33e3), layer(150.0, 5e-14, 17.0, 88e3)}) {
    CHECK(flagged(beyond));
  }
}

// 13 kJ/mol lie between what three aliphatic polyurethanes leave, 10 to 18 (PVDegradationTools).
// Steel of 0.75 mm holds 7850 * 470 * 0.75e-3 = 2767 J/(m2 K).
TEST_CASE("what is not known of a film or a panel is the same everywhere") {
  CHECK(Layer{}.activation_energy == 13'000.0);
  CHECK(common_activation == 13'000.0);
  CHECK(CouponTest{}.activation_energy == 13'000.0);
  CHECK(FilmStack{}.ln_resistance_spread == ShopLevels{}.film);
  CHECK(PanelThermal{}.heat_capacity == about(7850.0 * 470.0 * 0.75e-3, 1e-3));
  CHECK(PanelThermal{}.sides == 1.0);
}

TEST_SUITE_END();
