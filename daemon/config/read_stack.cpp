#include "config/read_stack.hpp"

namespace dryclock::config {

models::FilmStack read_stack(Section& film) {
  // Wide enough for any polymer sheet, narrow enough to catch a wrong unit (g for kg, um for m).
  constexpr Bounds thickness_um{0.5, 2000.0};
  constexpr Bounds permeability{1e-18, 1e-10};
  constexpr Bounds sorption{1e-3, 500.0};
  constexpr Bounds activation_energy{0.0, 60'000.0};

  models::FilmStack stack;
  for (auto& layer : film.list("layer")) {
    models::Layer sheet;
    sheet.name = layer.needed_text("name");
    sheet.thickness = models::Metres{layer.needed_number("thickness_um", thickness_um) * 1e-6};
    sheet.permeability = models::Permeability{layer.needed_number("permeability", permeability)};
    sheet.sorption = layer.needed_number("sorption", sorption);
    sheet.activation_energy = layer.number("activation_energy", sheet.activation_energy, activation_energy);
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
