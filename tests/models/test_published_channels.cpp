// Published dynamics of drying behind a polymer: channels of water in silicone rubber (PDMS) that dry through
// it (pervaporation). Noblin et al. 2008 and Dollet et al. 2019 were seen in abstract alone; their law, and
// the rubber's two constants, are from memory, and the rubber is held against a table that was seen.
//
// The law: vapour dissolves in the rubber to c_sat under the water and to c_sat RH under the air, and the
// flux is D c_sat (1 - RH)/e through a thickness e. It holds where water lies side by side: Noblin et al.
// found the flow to grow with the density of channels until their distance is about the thickness, and to
// stay the same from there on. That plateau is this model's case: zones are centimetres wide, film 0.2 mm
// thick. Channels further apart lose water to their sides too, of which a column knows nothing.
#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "drying_cases.hpp"
#include "models/data_sheet.hpp"
#include "reference_file.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr double rubber_diffusivity = 8.5e-10;   // m2/s, of water in PDMS (from memory)
constexpr double dissolved = 40.0 * 18.015;      // g/m3, c_sat: 40 mol/m3 (from memory)
constexpr double saturation = 2488.0;            // Pa, 21 C, steam tables
constexpr MetresPerSecond gas_blown_over{10.0};  // dry gas is blown over the rubber

FilmStack rubber(double micrometres) {
  return {{layer(micrometres, rubber_diffusivity * dissolved * 1e-3 / saturation, dissolved * 1e-3)}, 0.5};
}

// D c_sat (1 - RH)/e. [g/(m2 s)]
double law(double micrometres, double humidity) {
  return rubber_diffusivity * dissolved * (1.0 - humidity) / (micrometres * 1e-6);
}

// While the rubber's profile builds up, the water gives off c_sat (1 - RH) e/3 more than the law says (Crank
// 1975, section 4.3.3).
double taken_up(double micrometres, double humidity) {
  return dissolved * (1.0 - humidity) * micrometres * 1e-6 / 3.0;
}

}  // namespace

TEST_SUITE_BEGIN("published");

TEST_CASE("[Noblin2008: permeation through PDMS] a layer of water dries in time by thickness and dryness") {
  constexpr double depth = 50.0;  // um of water, g/m2
  for (const double thick : {50.0, 100.0, 300.0}) {
    for (const double humidity : {0.0, 0.3, 0.6}) {
      CAPTURE(thick);
      CAPTURE(humidity);
      const double seconds = (depth - taken_up(thick, humidity)) / law(thick, humidity);
      // The uptake is at most 0.14 % of the water. 5e-4: p_sat to four digits, and the air over the rubber,
      // 1.4e4 of 2e8 m2 s Pa/kg or less.
      const auto gas = air(21.0, humidity);
      FilmStackSolver grid{rubber(thick), whole, GramsPerSquareMetre{depth}, gas_blown_over, gas};
      grid.advance(gas, gas, Seconds{1.01 * seconds});
      CHECK(grid.dry_after() == about(seconds, 5e-4));
      ZoneRun modes{rubber(thick), whole, depth, gas, gas_blown_over};
      modes.advance(gas, gas, 0.9995 * seconds);
      CHECK_FALSE(modes.dry());
      modes.advance(gas, gas, 0.001 * seconds);
      CHECK(modes.dry());
    }
  }
}

TEST_CASE("[Dollet2019: single channel] water that recedes in a channel falls exponentially") {
  // A channel of depth h dries all along its length, and what is lost moves its end: the length left falls by
  // dl/dt = -l/tau, tau = h/flux. The papers call it truncated: near its end the front gives water to the gas
  // in the channel as well, over a length of its own. Patches of a layer that has broken up dry by the same
  // law, h being w_c; what the front gives to the gas beside it is not in the model.
  constexpr double depth = 50.0;
  constexpr double thick = 100.0;
  const WaterLayer patches{GramsPerSquareMetre{depth}, GramsPerSquareMetre{0.05}};
  const auto gas = air(21.0, 0.2);
  const double time = depth / law(thick, 0.2);
  FilmStackSolver grid{rubber(thick), patches, GramsPerSquareMetre{depth}, gas_blown_over, gas};
  ZoneRun modes{rubber(thick), patches, depth, gas, gas_blown_over};
  // From where the rubber's profile stands: e^2/D is 12 s, a thousandth of tau.
  const double start = 0.1 * time;
  grid.advance(gas, gas, Seconds{start});
  modes.advance(gas, gas, start);
  const double grid_first = grid.water();
  const double modes_first = modes.water();
  double before = 0.0;
  for (const double after : {0.5, 1.0, 2.0, 3.0}) {
    CAPTURE(after);
    grid.advance(gas, gas, Seconds{(after - before) * time});
    modes.advance(gas, gas, (after - before) * time);
    before = after;
    // 5e-4 of the time, as above, is 5e-4 after/tau of the water.
    CHECK(grid.water() / grid_first == about(std::exp(-after), 5e-4 * after));
    CHECK(modes.water() / modes_first == about(std::exp(-after), 5e-4 * after));
  }
}

TEST_CASE(
    "[PVDegradationTools: H2Opermeation] PDMS passes what the channels' constants say, reference file") {
  // Transmission 2.3846e8 exp(-38.027e3/RT) g mm/(m2 day) at 100 %RH, of another make of rubber: within a
  // quarter of D c_sat (rubbers of one class differ by more than the fit).
  for (const auto& row : testing::reference_rows("water_permeation_extract.csv")) {
    if (row[1].find("PDMS") != 0) {
      continue;
    }
    CAPTURE(row[0]);
    const double rate = std::stod(row[6]) * std::exp(-std::stod(row[7]) * 1e3 / (8.314462618 * 294.15));
    const auto passes = permeability_from_transmission(rate, Metres{1e-3}, Celsius{21.0}, Humidity{1.0});
    CHECK(passes.value() * saturation * 1e3 == about(rubber_diffusivity * dissolved, 0.25));
  }
}

TEST_SUITE_END();
