// Stage 7: what is worth telling, judged once a minute, and in which words. Each text says what is so, each
// advice what to do next.
//
// All but one follow from rows and time alone. `estimate_slipped` needs an outlook: it comes and goes with
// the answers that are taken, is not raised again by a replay, and nothing else looks at it.
#pragma once

#include <map>
#include <string>

#include "domain/setup.hpp"
#include "engine/bays.hpp"
#include "engine/open_alerts.hpp"
#include "engine/outlook_cache.hpp"
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
    const OutlookCache& outlooks;
  };
  void judge(const Facts& facts, OpenAlerts& alerts, OpenAlerts::Rows& rows) const;

  // Raises the alert of what was announced, ends that of what was taken back.
  void announce(const MilestoneRow& row, const Shop& shop, Time now, OpenAlerts& alerts,
                OpenAlerts::Rows& rows) const;
  void announce(const ReleaseRow& row, const Shop& shop, Time now, OpenAlerts& alerts,
                OpenAlerts::Rows& rows) const;

 private:
  struct AlertContext;  // alerts, rows and time together
  void judge_bay(const BaySetup& bay, const Facts& facts, AlertContext& context) const;
  void judge_solvent(const BaySetup& bay, const Facts& facts, AlertContext& context) const;
  void judge_sensors(const Facts& facts, AlertContext& context) const;
  void judge_silence(const Screen::Sensor& sensor, const Facts& facts, AlertContext& context) const;
  void judge_dew(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const;
  void judge_pace(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const;
  void judge_slip(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const;
  void clear_done(const Facts& facts, AlertContext& context) const;

  std::vector<BaySetup> bays_;
  AlertSettings settings_;
};

// The subject of a piece's news: "7:wrap-ready".
[[nodiscard]] std::string news_subject(PieceId piece, models::Milestone which);

}  // namespace dryclock::engine
