#include "models/air_layer.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "models/humid_air.hpp"
#include "support/grid.hpp"

using namespace dryclock::models;

TEST_SUITE_BEGIN("air_layer");

TEST_CASE("a still bay's air layer is about 1 % of a baseline film stack's 5.4e9 m2 s Pa/kg") {
  const Resistance layer = air_resistance(MetresPerSecond{2.3e-3}, Celsius{21.0});
  CHECK(layer.value() == doctest::Approx(5.9e7).epsilon(0.01).scale(0.0));  // hand: 461.5 * 294.15 / 2.3e-3
}

TEST_CASE("free convection of a panel a few kelvin off the air gives a still bay's mass transfer") {
  for (const double off : {2.0, 5.0, 10.0}) {
    CAPTURE(off);
    const auto h = free_convection(Face::vertical, Celsius{21.0 + off}, Celsius{21.0}, Metres{1.0});
    const double h_m = mass_transfer(h, Celsius{21.0}).value();
    CHECK(h_m > 1.0e-3);
    CHECK(h_m < 3.5e-3);
  }
}

TEST_CASE("a warm panel sheds more heat upwards than downwards, a cold one the other way round") {
  const Metres length{0.3};
  const auto convection = [&](Face face, double panel) {
    return free_convection(face, Celsius{panel}, Celsius{21.0}, length).value();
  };
  CHECK(convection(Face::up, 40.0) > convection(Face::down, 40.0));
  CHECK(convection(Face::up, 5.0) < convection(Face::down, 5.0));
}

TEST_CASE("without a temperature difference only conduction is left") {
  const Metres length{0.5};
  for (const Face face : {Face::up, Face::down, Face::vertical}) {
    const double h = free_convection(face, Celsius{21.0}, Celsius{21.0}, length).value();
    CHECK(h == doctest::Approx(air_properties(Celsius{21.0}).conductivity / 0.5).scale(0.0));
  }
}

TEST_CASE("Chilton-Colburn joins the laminar heat and mass transfer of a plate") {
  // Nu = 0.664 Re^1/2 Pr^1/3, so h_m from h must equal Sh's own formula.
  const Celsius air{25.0};
  const auto properties = air_properties(air);
  const double speed = 1.5, length = 0.6;
  const double reynolds = speed * length / properties.kinematic_viscosity;
  const double prandtl = properties.kinematic_viscosity / properties.thermal_diffusivity;
  const HeatTransfer h{0.664 * std::sqrt(reynolds) * std::cbrt(prandtl) * properties.conductivity / length};
  CHECK(mass_transfer(h, air).value() ==
        doctest::Approx(forced_mass_transfer(MetresPerSecond{speed}, Metres{length}, air).value())
            .epsilon(1e-12)
            .scale(0.0));
}

TEST_CASE("moving air only ever helps, and still air leaves the bay's own value") {
  const MetresPerSecond still{2.3e-3};
  const Celsius air{21.0};
  CHECK(air_layer_coefficient(still, std::nan(""), Metres{0.5}, air) == still);
  CHECK(air_layer_coefficient(still, 0.0, Metres{0.5}, air) == still);
  MetresPerSecond last = still;
  for (const double speed : dryclock::test::grid(0.1, 4.9, 0.1)) {
    const auto now = air_layer_coefficient(still, speed, Metres{0.5}, air);
    CHECK(now > last);
    last = now;
  }
  CHECK(last > forced_mass_transfer(MetresPerSecond{4.9}, Metres{0.5}, air));
}

TEST_CASE("Stefan's flow adds little at room temperature and vanishes without a gradient") {
  const Celsius t{21.0};
  const auto d = vapour_diffusivity(t);
  const Pascal wet = saturation_pressure(t), half = wet * 0.5;
  const double flux = stagnant_flux(d, t, standard_pressure, wet, half, Metres{0.01});
  const double plain = d.value() / (vapour_gas_constant * t.kelvin()) * (wet - half).value() / 0.01;
  CHECK(flux > plain);
  CHECK(flux < plain * 1.03);
  CHECK(stagnant_flux(d, t, standard_pressure, half, half, Metres{0.01}) == 0.0);
}

TEST_SUITE_END();
