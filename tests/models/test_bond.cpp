#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "models/bond.hpp"
#include "support/grid.hpp"

using namespace dryclock::models;

TEST_SUITE_BEGIN("bond");

TEST_CASE("bond grows from nothing to full strength and never leaves 0..1") {
  CHECK(bond_fraction(0.0) == 0.0);
  CHECK(bond_fraction(-5.0) == 0.0);
  CHECK(bond_fraction(std::numeric_limits<double>::quiet_NaN()) == 0.0);
  double last = 0.0;
  for (const double decade : dryclock::test::grid(-3.0, 9.0, 0.23)) {
    const double t = std::pow(10.0, decade);
    const double now = bond_fraction(t);
    CHECK(now >= last);
    CHECK(now <= 1.0);
    last = now;
  }
  CHECK(last == 1.0);
}

TEST_CASE("bond through the usual statement for acrylic tapes (common practice, no source)") {
  CHECK(bond_fraction(20 * 60.0) == doctest::Approx(0.50));
  CHECK(bond_seconds(0.5) == doctest::Approx(20 * 60.0));
  CHECK(bond_fraction(bond_seconds(0.83)) == doctest::Approx(0.83));
  CHECK(bond_fraction(24 * 3600.0) == doctest::Approx(0.90).epsilon(0.002));
  CHECK(bond_fraction(72 * 3600.0) == doctest::Approx(1.00).epsilon(0.002));
}

TEST_CASE("a warm panel bonds faster, by 1.3 decades at most; a cold one slower, down to a guard of 4") {
  CHECK(bond_rate(Celsius{23.0}) == doctest::Approx(1.0));
  double last = 0.0;
  for (const double t : dryclock::test::grid(-120.0, 120.0, 0.5)) {
    const double now = bond_rate(Celsius{t});
    CHECK(now >= last);
    CHECK(std::log10(now) <= doctest::Approx(1.3));
    CHECK(std::log10(now) >= doctest::Approx(-4.0));
    last = now;
  }
}

// 0.5 + 0.2154 log10(t/1200 s) is 0 at 1200 s 10^(-0.5/0.2154) = 5.727 s and 1 at 1200 s 10^(0.5/0.2154)
// = 2.9101 days.
TEST_CASE("contact counts from where the formula is 0 to where it is 1") {
  CHECK(0.5 + 0.2154 * std::log10(bond_begins / 1200.0) == doctest::Approx(0.0));
  CHECK(0.5 + 0.2154 * std::log10(bond_complete / 1200.0) == doctest::Approx(1.0));
}

TEST_SUITE_END();

// exp(80e3/8.314 (1/293.15 - 1/(T + 273.15))) and 10^(8.442 (T - 20)/(106.6 + T - 20)), by hand.
TEST_CASE("two laws of dwell and temperature, the same at 20 C") {
  CHECK(bond_rate(Celsius{20.0}, BondLaw::arrhenius) == doctest::Approx(1.0));
  CHECK(bond_rate(Celsius{20.0}, BondLaw::williams_landel_ferry) == doctest::Approx(1.0));
  CHECK(bond_rate(Celsius{10.0}, BondLaw::arrhenius) == doctest::Approx(0.3137).epsilon(1e-3));
  CHECK(bond_rate(Celsius{10.0}, BondLaw::williams_landel_ferry) == doctest::Approx(0.1337).epsilon(1e-3));
  CHECK(bond_rate(Celsius{30.0}, BondLaw::arrhenius) == doctest::Approx(2.953).epsilon(1e-3));
}

// 90 % after 24 h at 23 C is 33 h at 20 C and 106 h at 10 C by Arrhenius at 80 kJ/mol (computed beforehand
// with another program: exp(80e3/8.3145 (1/T - 1/296.15))).
TEST_CASE("a day at 23 C by the second law") {
  const double day = bond_rate(Celsius{23.0}, BondLaw::arrhenius) * 24.0;
  CHECK(day / bond_rate(Celsius{20.0}, BondLaw::arrhenius) == doctest::Approx(33.5).epsilon(0.01));
  CHECK(day / bond_rate(Celsius{10.0}, BondLaw::arrhenius) == doctest::Approx(106.0).epsilon(0.01));
}
