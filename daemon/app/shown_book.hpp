// Makes the rows of what was shown (domain/shown.hpp) from the view that the page gets, and remembers what
// the last ones said, so that hourly rows tell only what has changed since. Writes nothing.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "domain/shown.hpp"

namespace dryclock::app {

// In hourly rows a value counts as changed beyond this, or where an announcement or the limiting zone
// changed. All other rows are exact.
struct ShownSteps {
  double probability = 0.01, bond = 0.02;
  double water_g_m2 = 0.1, water_share = 0.05;  // the larger of both
  Millis expected = std::chrono::minutes{10};   // a time ahead may move by so much,
  double expected_share = 0.05;                 // or by this share of how far it is ahead
};

// The piece of the deed, or of all its vehicle's where the vehicle is released; absent: not a deed whose
// estimate is kept (wrap, trim, refit, inspection, release), or nothing is shown of it.
struct Deed {
  VehicleId vehicle = 0;
  PieceId piece = 0;  // 0: all
};
[[nodiscard]] std::optional<Deed> deed_of(const EventDetail& detail, const Board& board);

class ShownBook {
 public:
  // Each is as of board.now.
  [[nodiscard]] Shown deed(const Deed& deed, const Board& board);
  // One row for each vehicle with something announced or taken back, then one for each vehicle with alerts
  // and one for those of the shop.
  [[nodiscard]] std::vector<Shown> changes(const Effects& effects, const Board& board);
  // One row for each open vehicle.
  [[nodiscard]] std::vector<Shown> hourly(const Board& board);

  // A row of the vehicle was not written: its next one tells everything.
  void forget(VehicleId vehicle) { last_.erase(vehicle); }

 private:
  using Pieces = std::map<PieceId, ShownPiece>;
  struct Last {
    std::optional<ShownMilestone> release;
    std::optional<double> hand_over_probability;
    Pieces pieces;
  };
  [[nodiscard]] Shown exact(ShownWhy why, const VehicleSummary& vehicle, const Board& board,
                            const std::vector<PieceId>& pieces);
  [[nodiscard]] Shown changed(const VehicleSummary& vehicle, Time now);

  std::map<VehicleId, Last> last_;
};

// Whose the alert is; 0: the shop's, or a bay's.
[[nodiscard]] VehicleId vehicle_of(AlertRule rule, const std::string& subject, const Board& board);

}  // namespace dryclock::app
