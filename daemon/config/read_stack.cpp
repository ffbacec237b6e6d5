#include "config/read_stack.hpp"

#include <algorithm>
#include <array>

#include "models/data_sheet.hpp"

namespace dryclock::config {
namespace {

// In one of the ways in which a data sheet tells it.
models::Permeability read_permeability(Section& layer, const models::Layer& sheet) {
  // Wide enough for any polymer sheet, narrow enough to catch a wrong unit (g for kg).
  constexpr Bounds permeability{1e-18, 1e-10};
  constexpr std::array ways{"permeability", "transmission_g_m2_day", "permeance_perms"};
  if (std::ranges::count_if(ways, [&](const char* way) { return layer.has(way); }) > 1) {
    layer.complain("permeability",
                   "told twice: one of permeability, transmission_g_m2_day and permeance_perms is enough");
  }
  if (const auto rate = layer.maybe_number("transmission_g_m2_day", {1e-3, 1e5})) {
    const models::Celsius at{layer.needed_number("transmission_at_c", {0.0, 60.0})};
    const double difference = layer.needed_number("transmission_difference_pct", {1.0, 100.0});
    return models::permeability_from_transmission(
        *rate, sheet.thickness, at, models::Humidity{difference / 100.0}, sheet.activation_energy);
  }
  if (const auto perms = layer.maybe_number("permeance_perms", {1e-5, 1e4})) {
    return models::permeability_from_perms(*perms, sheet.thickness);
  }
  return models::Permeability{layer.needed_number("permeability", permeability)};
}

}  // namespace

models::FilmStack read_stack(Section& film) {
  constexpr Bounds thickness_um{0.5, 2000.0};  // catches m for um
  constexpr Bounds sorption{1e-3, 500.0};
  constexpr Bounds activation_energy{0.0, 60'000.0};

  models::FilmStack stack;
  for (auto& layer : film.list("layer")) {
    models::Layer sheet;
    sheet.name = layer.needed_text("name");
    sheet.thickness = models::Metres{layer.needed_number("thickness_um", thickness_um) * 1e-6};
    sheet.sorption = layer.needed_number("sorption", sorption);
    sheet.activation_energy = layer.number("activation_energy", sheet.activation_energy, activation_energy);
    sheet.permeability = read_permeability(layer, sheet);
    layer.finish();
    stack.layers.push_back(std::move(sheet));
  }
  if (stack.layers.empty()) {
    film.complain("layer", "at least one layer is needed, the adhesive first");
  }
  stack.ln_resistance_spread = film.number("ln_resistance_spread", stack.ln_resistance_spread, {0.01, 2.0});
  return stack;
}

}  // namespace dryclock::config
