// Stage 7: what is worth telling of vehicles and pieces, judged once a minute, and what was announced of
// them.
//
// `estimate_slipped` and `pace_low` need an outlook: they come and go with the answers that are taken, are
// not raised again by a replay, and nothing else looks at them. The others follow from rows and time alone.
#pragma once

#include <string>

#include "domain/setup.hpp"
#include "engine/alert_context.hpp"
#include "engine/bays.hpp"
#include "engine/calls.hpp"
#include "engine/outlook_cache.hpp"
#include "engine/screen.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

class VehicleRules {
 public:
  explicit VehicleRules(const AlertSettings& settings) : settings_(settings) {}
  void follow(const AlertSettings& settings) { settings_ = settings; }

  struct Facts {
    Time now;  // a whole minute
    const Bays& bays;
    const Screen& screen;
    const Shop& shop;
    const Calls& calls;
    const OutlookCache& outlooks;
  };
  void judge(const Facts& facts, OpenAlerts& alerts, OpenAlerts::Rows& rows) const;

 private:
  void judge_dew(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const;
  void judge_pace(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const;
  void judge_slip(const Vehicle& vehicle, const Facts& facts, AlertContext& context) const;

  AlertSettings settings_;
};

// Raises the alert of what was announced, ends that of what was taken back.
void announce(const MilestoneRow& row, const Shop& shop, const Calls& calls, AlertContext context);
void announce(const ReleaseRow& row, const Shop& shop, AlertContext context);

// The subject of a piece's news, "7:wrap-ready", and of the look that it asks for, "7:look".
[[nodiscard]] std::string news_subject(PieceId piece, models::Milestone which);
[[nodiscard]] std::string look_subject(PieceId piece);

}  // namespace dryclock::engine
