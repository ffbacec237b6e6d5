// What the client prints for people. Pure: views in, text out. Times are the shop's local time.
#pragma once

#include <string>
#include <vector>

#include "base/local_time.hpp"
#include "domain/answers.hpp"
#include "domain/view.hpp"

namespace dryclock::cli {

// A sentence of the engine's, with its temperatures in the shop's unit.
[[nodiscard]] std::string in_shop_unit(const std::string& sentence, const CatalogueView& shop);
// The morning's answer: bays, vehicles in the shop with their pieces, open alerts.
[[nodiscard]] std::string show_board(const Board& board, const CatalogueView& shop, const LocalZone& zone);
// One vehicle with every zone and milestone, ended pieces included.
[[nodiscard]] std::string show_vehicle(const VehicleSummary& vehicle, const CatalogueView& shop,
                                       const LocalZone& zone);
[[nodiscard]] std::string show_vehicles(const Board& board, const LocalZone& zone);
// Temperatures in their texts in the shop's unit.
[[nodiscard]] std::string show_alerts(const std::vector<AlertSummary>& alerts, const CatalogueView& shop,
                                      const LocalZone& zone);
// Vehicles that have left, and when each is due for its recheck.
[[nodiscard]] std::string show_handed_over(const std::vector<HandedOver>& vehicles, Time now,
                                           const LocalZone& zone);
[[nodiscard]] std::string show_air(const std::vector<AirPoint>& points, const CatalogueView& shop,
                                   const LocalZone& zone);
[[nodiscard]] std::string show_events(const std::vector<Event>& events, const LocalZone& zone);
[[nodiscard]] std::string show_status(const Health& health, const Board& board, const CatalogueView& shop,
                                      const LocalZone& zone);
// show_rechecks.cpp: a table with each group's interval as a bar.
[[nodiscard]] std::string show_rechecks(const RecheckReport& report, const CatalogueView& shop);
// "Sun 09:10 (Sun 07:50 to Sun 11:30)": likely, early and late; empty where the outlook does not reach it.
[[nodiscard]] std::string show_spread(const Spread& spread, const LocalZone& zone);

}  // namespace dryclock::cli
