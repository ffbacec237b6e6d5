// What the engine holds, and what rows and minutes do to it.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "engine/alert_rules.hpp"
#include "engine/bays.hpp"
#include "engine/bond_coupon_registry.hpp"
#include "engine/calls.hpp"
#include "engine/coupon_registry.hpp"
#include "engine/early_steps.hpp"
#include "engine/engine.hpp"
#include "engine/lessons.hpp"
#include "engine/open_alerts.hpp"
#include "engine/outlook_cache.hpp"
#include "engine/plate_registry.hpp"
#include "engine/salt_box.hpp"
#include "engine/screen.hpp"
#include "engine/sensor_registry.hpp"
#include "engine/sensor_rules.hpp"
#include "engine/shop.hpp"
#include "engine/summaries.hpp"
#include "engine/vehicle_rules.hpp"

namespace dryclock::engine {

struct Engine::State {
  explicit State(Setup s)
      : setup(std::move(s)),
        screen(setup.screen, setup.mappings),
        bays(setup),
        sensors(setup),
        shop(setup),
        rules(setup),
        vehicle_rules(setup.alerts),
        sensor_rules(setup) {}

  // Rows up to and including `complete` have all been applied. `row`: one comes at t.
  void move_to(Time t, Time complete, bool row, Effects& effects);
  void close_until(Time t, Effects& effects);
  void close_minute(Time t, Effects& effects);
  void apply_readings(const JournalRow& row, const Decoded& decoded, Effects& effects);
  void apply_event(const Event& event, Effects& effects);
  void apply_announced(Seq row, const Announced& announced, Effects& effects);
  void configure(Seq seq, const Configured& configured, Effects& effects);
  void follow_sensors();
  void clock_moved(const Fact& what, std::optional<ClockFault> why, Effects& effects);
  // What has been said of a vehicle since, its alerts included.
  void follow_calls(VehicleId vehicle, Time at, Effects& effects);  // `at`: when what they follow was told
  [[nodiscard]] Known known();
  [[nodiscard]] Told told(VehicleId vehicle) const;
  // Of all vehicles that laid film, and of the plates.
  [[nodiscard]] std::shared_ptr<const models::ShopBelief> belief();
  // As of the minute: `summaries` and `plate_views`.
  void summarise_all();

  Setup setup;
  Screen screen;
  Bays bays;
  SensorRegistry sensors;
  SaltBox salts;
  CouponRegistry coupons;
  PlateRegistry plates;
  BondCouponRegistry bond_coupons;
  Shop shop;
  OpenAlerts alerts;
  AlertRules rules;
  VehicleRules vehicle_rules;
  SensorRules sensor_rules;
  Calls calls;
  EarlySteps early_steps;
  Lessons lessons;
  OutlookCache outlooks;
  Counters counters;

  std::optional<Time> started;  // first moment that is known
  Time now;
  Time closed;      // last minute that was closed
  Time newest_row;  // or the start
  Seq applied = 0;
  Seq first_seq = 0;
  std::map<Seq, std::string> refused;  // events of old journals that were kept and not applied

  // Summaries as of a minute and an event; views are the dear part of a board.
  std::optional<Time> summarised_at;
  std::vector<VehicleSummary> summaries;
  std::vector<PlateView> plate_views;
};

}  // namespace dryclock::engine
