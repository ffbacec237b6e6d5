#include "support/small_shop.hpp"

namespace dryclock::support {
namespace {

using models::ZoneKind;

models::FilmStack stack(double film_permeability) {
  models::FilmStack out;
  out.layers = {
      {"adhesive", models::Metres{40e-6}, models::Permeability{3e-14}, 4.5},
      {"film", models::Metres{150e-6}, models::Permeability{film_permeability}, 17.0},
      {"topcoat", models::Metres{10e-6}, models::Permeability{1e-14}, 15.0},
  };
  return out;
}

void map_sensor(Setup& setup, const std::string& sensor, const std::string& bay,
                const std::string& time_pointer) {
  SensorMapping mapping;
  mapping.sensor = sensor;
  mapping.bay = bay;
  mapping.topic = "bays/" + bay;
  mapping.time_pointer = time_pointer;
  mapping.quantity = Quantity::air_temperature;
  mapping.pointer = "/t";
  mapping.unit = Unit::celsius;
  setup.mappings.push_back(mapping);
  mapping.quantity = Quantity::relative_humidity;
  mapping.pointer = "/h";
  mapping.unit = Unit::percent;
  setup.mappings.push_back(mapping);
}

}  // namespace

Setup small_shop() {
  Setup setup;
  setup.bays = {{"front", 15.0, 70.0, {}}, {"back", 15.0, 70.0, {}}};
  map_sensor(setup, "probe", "front", "");
  map_sensor(setup, "gateway", "back", "/at");

  auto& catalogue = setup.catalogue;
  catalogue.films = {{"baseline", "150 micrometre film", "", "Folie, 150 Mikrometer", stack(5e-14)},
                     {"open", "open film", "", "", stack(12e-14)}};
  catalogue.solutions = {{"slip", "slip solution", "", "Gleitlösung", {0.0}},
                         {"tack", "tack solution", "", "Haftlösung", {0.2}}};
  const models::PanelThermal steel;
  catalogue.panels = {
      {"bonnet", "bonnet", "hood", "Motorhaube", 1.5, steel, {ZoneKind::field, ZoneKind::edge}},
      {"bumper",
       "front bumper",
       "front bumper",
       "Stoßfänger vorn",
       1.2,
       steel,
       {ZoneKind::field, ZoneKind::edge, ZoneKind::recess}},
      {"lamp", "headlamp", "headlight", "Scheinwerfer", 0.1, steel, {ZoneKind::field}}};
  const auto water = [&](ZoneKind zone) -> auto& {
    return catalogue.water[static_cast<std::size_t>(zone)];
  };
  water(ZoneKind::field) = {0.4, 1.0, 3.0, 3.0};  // as it is shipped
  water(ZoneKind::edge) = {1.3, 3.5, 6.5, 6.5};
  water(ZoneKind::recess) = {3.0, 6.5, 11.0, 40.0};
  water(ZoneKind::turn) = {1.3, 3.5, 6.5, 6.5};
  return setup;
}

}  // namespace dryclock::support
