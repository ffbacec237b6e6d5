// One zone to be dried on paper: `dryclock dry`. Read by case_file.hpp, run by dry_run.hpp.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "domain/names.hpp"
#include "models/catalogue.hpp"

namespace dryclock {

namespace cli {

enum class PanelSource : std::uint8_t { air, measured, modelled };
enum class Solver : std::uint8_t { modes, grid };

inline constexpr double coldest_c = -40.0, hottest_c = 120.0;  // that a case may hold: models/humid_air.hpp

// The air at one moment; linear in between, held beyond the ends.
struct AirAt {
  double hours = 0.0;  // from the start
  double air_c = 0.0;
  double rh_pct = 0.0;  // over liquid water
  double panel_c = std::numeric_limits<double>::quiet_NaN();
};

struct DryCase {
  std::string title;
  models::FilmStack stack;
  double water = 10.0;                    // g/m2, right after the squeegee
  double break_up = 1.5;                  // w_c, g/m2
  double dry_below = 0.05;                // g/m2
  double alcohol = 0.0;                   // mass fraction
  double air_layer_coefficient = 2.3e-3;  // h_m, m/s
  std::optional<double> start_activity;   // of the film; absent: in equilibrium with the first air
  PanelSource panel = PanelSource::air;
  models::PanelThermal thermal;         // modelled
  std::optional<double> panel_start_c;  // modelled; absent: the first air's
  std::vector<AirAt> air;               // at least one, rising
  double max_hours = 240.0;
  Solver solver = Solver::modes;
};

}  // namespace cli

template <>
inline constexpr std::array words<cli::PanelSource>{std::string_view{"air"}, std::string_view{"measured"},
                                                    std::string_view{"modelled"}};
template <>
inline constexpr std::array words<cli::Solver>{std::string_view{"modes"}, std::string_view{"grid"}};

}  // namespace dryclock
