// Stage 7: what is worth telling, judged once a minute, and in which words. Each text says what is so, each
// advice what to do next.
//
// All but one follow from rows and time alone. `estimate_slipped` needs an outlook: it comes and goes with
// the answers that are taken, is not raised again by a replay, and nothing else looks at it.
#pragma once

#include <map>
#include <string>

#include "domain/setup.hpp"
#include "engine/alert_book.hpp"
#include "engine/bays.hpp"
#include "engine/outlook_desk.hpp"
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
    const OutlookDesk& outlooks;
  };
  void judge(const Facts& facts, AlertBook& book, AlertBook::Rows& rows) const;

  // A milestone that was announced or taken back.
  void tell(const MilestoneRow& row, const Shop& shop, Time now, AlertBook& book,
            AlertBook::Rows& rows) const;
  void tell(const ReleaseRow& row, const Shop& shop, Time now, AlertBook& book, AlertBook::Rows& rows) const;

 private:
  struct Desk;  // book, rows and time together
  void judge_bay(const BaySetup& bay, const Facts& facts, Desk& desk) const;
  void judge_solvent(const BaySetup& bay, const Facts& facts, Desk& desk) const;
  void judge_sensors(const Facts& facts, Desk& desk) const;
  void judge_silence(const Screen::Sensor& sensor, const Facts& facts, Desk& desk) const;
  void judge_dew(const Vehicle& vehicle, const Facts& facts, Desk& desk) const;
  void judge_pace(const Vehicle& vehicle, const Facts& facts, Desk& desk) const;
  void judge_slip(const Vehicle& vehicle, const Facts& facts, Desk& desk) const;
  void clear_done(const Facts& facts, Desk& desk) const;

  std::vector<BaySetup> bays_;
  AlertSettings settings_;
};

// The subject of a piece's news: "7:wrap-ready".
[[nodiscard]] std::string news_subject(PieceId piece, models::Milestone which);

}  // namespace dryclock::engine
