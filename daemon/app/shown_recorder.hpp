// Makes the rows of what was shown (domain/shown.hpp) from the view that the page gets, and remembers what
// the last ones said, so that hourly rows tell only what has changed since. Writes nothing.
#pragma once

#include <bitset>
#include <map>
#include <optional>
#include <vector>

#include "domain/shown.hpp"

namespace dryclock::app {

// A value counts as changed beyond this, or where what was announced or the limiting zone changed. What a row
// is about (the milestone that a deed asks for, what was announced) it tells exactly, the rest in these
// steps.
struct ShownSteps {
  double probability = 0.05, bond = 0.10;
  double water_g_m2 = 0.5, water_share = 0.20;  // the larger of both
  Millis expected = std::chrono::minutes{30};   // a time ahead may move by so much,
  double expected_share = 0.15;                 // or by this share of how far it is ahead
};

// What a row is about.
struct Asked {
  bool release = false;
  std::map<PieceId, std::bitset<models::milestone_kinds>> pieces;
};
struct Deed {
  VehicleId vehicle = 0;
  Asked asked;
};
// Absent: not a deed whose estimate is kept (wrap, trim, refit, inspection, release), or nothing is shown of
// it.
[[nodiscard]] std::optional<Deed> deed_of(const EventDetail& detail, const Board& board);

class ShownRecorder {
 public:
  // Each is as of board.now.
  [[nodiscard]] Shown deed(const Deed& deed, const Board& board);
  // One row for each vehicle with something announced, taken back or alerted, and one for the shop's alerts.
  [[nodiscard]] std::vector<Shown> changes(const Effects& effects, const Board& board);
  // One row for each open vehicle.
  [[nodiscard]] std::vector<Shown> hourly(const Board& board);

  // A row of the vehicle was not written: its next one tells everything.
  void forget(VehicleId vehicle) { last_.erase(vehicle); }

 private:
  struct Last {
    std::optional<ShownMilestone> release;
    std::optional<double> hand_over_probability;
    std::map<PieceId, ShownPiece> pieces;
  };
  // Of the pieces that it is about; an hourly one, of all.
  [[nodiscard]] Shown row(ShownWhy why, const VehicleSummary& vehicle, const Asked& asked, Time now);

  std::map<VehicleId, Last> last_;
};

// Whose the alert is; 0: the shop's, or a bay's.
[[nodiscard]] VehicleId vehicle_of(AlertRule rule, const std::string& subject, const Board& board);

}  // namespace dryclock::app
