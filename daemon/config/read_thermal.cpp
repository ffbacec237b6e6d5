#include "config/read_thermal.hpp"

namespace dryclock::config {

models::PanelThermal read_thermal(Section& section, models::PanelThermal usual) {
  auto& t = usual;
  t.heat_capacity = section.number("heat_capacity_j_m2k", t.heat_capacity, {100.0, 100'000.0});
  t.transfer = models::HeatTransfer{section.number("transfer_w_m2k", t.transfer.value(), {0.5, 100.0})};
  t.sides = section.number("sides", t.sides, {1.0, 2.0});
  t.body_heat_capacity = section.number("body_heat_capacity_j_m2k", t.body_heat_capacity, {0.0, 1e6});
  t.body_transfer =
      models::HeatTransfer{section.number("body_transfer_w_m2k", t.body_transfer.value(), {0.0, 1000.0})};
  return t;
}

}  // namespace dryclock::config
