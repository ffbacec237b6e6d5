// The engine's state as plain data for the outside.
#pragma once

#include "domain/outlook.hpp"
#include "domain/sensor_view.hpp"
#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "engine/bays.hpp"
#include "engine/calls.hpp"
#include "engine/early_steps.hpp"
#include "engine/salt_box.hpp"
#include "engine/screen.hpp"
#include "engine/sensor_registry.hpp"
#include "engine/shop.hpp"
#include "models/shop_belief.hpp"

namespace dryclock::engine {

[[nodiscard]] SensorView summarise(const SensorEntry& sensor, const Screen& screen, const SaltBox& salts,
                                   Time now);
[[nodiscard]] BaySummary summarise(const BaySetup& bay, const Bays& bays, const Screen& screen, Time now);
// The looks that are asked for at plates in that bay.
[[nodiscard]] std::vector<PlateAsk> looks_asked_in(const std::string& bay,
                                                   const std::vector<PlateView>& plates);
// What has been said and worked out of a vehicle.
struct Told {
  const Shop& shop;
  const Calls& calls;
  const EarlySteps& early_steps;
  const OutlookAnswer* answer = nullptr;  // the newest outlook, or null
};
[[nodiscard]] VehicleSummary summarise(const Vehicle& vehicle, const Bays& bays, const Told& told, Time now);
// At most 150 points: `every` is stretched where there would be more.
[[nodiscard]] std::vector<HistoryPoint> history_of(const PiecePlan& piece, const Vehicle& vehicle,
                                                   const Bays& bays, const models::ShopBelief& belief,
                                                   Millis every);

}  // namespace dryclock::engine
