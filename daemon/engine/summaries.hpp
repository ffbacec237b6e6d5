// The engine's state as plain data for the outside.
#pragma once

#include "domain/outlook.hpp"
#include "domain/sensor_view.hpp"
#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "engine/bays.hpp"
#include "engine/salt_box.hpp"
#include "engine/screen.hpp"
#include "engine/sensor_registry.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

[[nodiscard]] SensorView summarise(const SensorEntry& sensor, const Screen& screen, const SaltBox& salts,
                                   Time now);
[[nodiscard]] BaySummary summarise(const BaySetup& bay, const Bays& bays, const Screen& screen, Time now);
// `answer`: the newest outlook, or null.
[[nodiscard]] VehicleSummary summarise(const Vehicle& vehicle, const Bays& bays, const OutlookAnswer* answer,
                                       Time now);
[[nodiscard]] std::vector<HistoryPoint> history_of(const PiecePlan& piece, const Vehicle& vehicle,
                                                   const Bays& bays, Millis every);

}  // namespace dryclock::engine
