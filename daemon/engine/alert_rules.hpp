// Stage 7: what is worth telling of bays and sensors, judged once a minute. Each text says what is so, each
// advice what to do next. They follow from rows and time alone.
#pragma once

#include <vector>

#include "domain/setup.hpp"
#include "engine/alert_context.hpp"
#include "engine/bays.hpp"
#include "engine/open_alerts.hpp"
#include "engine/screen.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

class AlertRules {
 public:
  explicit AlertRules(const Setup& setup) { follow(setup); }
  void follow(const Setup& setup) {
    bays_ = setup.bays;
    settings_ = setup.alerts;
  }

  struct Facts {
    Time now;      // a whole minute
    Time started;  // first moment this engine knows of
    const Bays& bays;
    const Screen& screen;
    const Shop& shop;
  };
  void judge(const Facts& facts, OpenAlerts& alerts, OpenAlerts::Rows& rows) const;

 private:
  void judge_bay(const BaySetup& bay, const Facts& facts, AlertContext& context) const;
  void judge_solvent(const BaySetup& bay, const Facts& facts, AlertContext& context) const;
  void judge_sensors(const Facts& facts, AlertContext& context) const;
  void judge_silence(const Screen::Sensor& sensor, const Facts& facts, AlertContext& context) const;
  void clear_done(const Facts& facts, AlertContext& context) const;

  std::vector<BaySetup> bays_;
  AlertSettings settings_;
};

}  // namespace dryclock::engine
