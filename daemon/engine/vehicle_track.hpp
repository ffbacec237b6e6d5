// One vehicle's pieces, integrated minute by minute over the air of the bays it stood in. A value: the view
// copies it to look a little beyond the last readings without touching the state.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "engine/bays.hpp"
#include "engine/vehicle_plan.hpp"
#include "models/panel_heat.hpp"
#include "models/piece.hpp"

namespace dryclock::engine {

struct PieceTrack {
  std::optional<models::Piece> piece;  // absent until there is air after it was laid
  models::PanelState panel;
  double pace = 0.0;            // at its own panel's temperature
  double standard_hours = 0.0;  // delivered since it was laid; none where water condensed
  bool bridged = false;         // some of its minutes had no readings
  std::size_t next_action = 0;
  std::array<std::optional<Time>, models::milestone_kinds> announced;
  std::vector<EarlyStep> early_steps;
};

// What integrating needs to know beside the plan and the air.
struct TrackRules {
  models::Thresholds thresholds;
  double announce_level = 0.90;
  Millis least_indoor{};
  models::PanelThermal vehicle_panel;  // stands for the vehicle where no piece does
  bool operator==(const TrackRules&) const = default;
};

[[nodiscard]] double probability(const models::Piece& piece, models::Milestone milestone);

class VehicleTrack {
 public:
  // `ask` the air up to `until`. Past the last readings it waits (state), or goes on with the air held
  // as it was (view).
  enum class Beyond { wait, hold };
  void integrate(const VehiclePlan& plan, const Bays& bays, const TrackRules& rules, Time until,
                 Beyond beyond);

  // Integrates some pieces again from their laying to where the vehicle is: what was entered late, or taken
  // back, about them alone. Pieces do not act on each other.
  void refold(const VehiclePlan& plan, const Bays& bays, const TrackRules& rules,
              const std::set<PieceId>& pieces);

  [[nodiscard]] std::optional<Time> integrated() const { return integrated_; }
  [[nodiscard]] const PieceTrack* piece(PieceId id) const;
  [[nodiscard]] std::optional<Time> release_announced() const { return release_announced_; }
  // Temperature of the vehicle's panels where nothing measures it; absent before there was any air.
  [[nodiscard]] std::optional<double> panel_c() const;
  // Dry, bonded, not condensing and kept indoors long enough, at the minute it is integrated to. The pieces
  // draw their members independently, hence the product; where one roll of film makes them alike, it errs
  // late.
  [[nodiscard]] double release_probability(const VehiclePlan& plan, const TrackRules& rules) const;
  // The share of it that does not depend on time indoors.
  [[nodiscard]] double dry_probability(const VehiclePlan& plan) const;

 private:
  struct Step;
  [[nodiscard]] bool look(const VehiclePlan& plan, const Bays& bays, Time t, Time until, Beyond beyond,
                          Step& step) const;
  void apply(const VehiclePlan& plan, const Bays& bays, const TrackRules& rules, const Step& step);
  void warm_vehicle(const VehiclePlan& plan, const TrackRules& rules, const Step& step);
  void start(const VehiclePlan& plan, const PiecePlan& piece, const Bays& bays, const TrackRules& rules,
             const Step& step);
  static void advance(PieceTrack& track, const PiecePlan& piece, const Step& step);
  void act(const PiecePlan& piece, PieceTrack& track, const TrackRules& rules, Time t);
  void announce(const PiecePlan& piece, PieceTrack& track, const TrackRules& rules, Time t);
  void release(const VehiclePlan& plan, const TrackRules& rules, Time t);

  std::optional<Time> integrated_;
  std::map<PieceId, PieceTrack> pieces_;
  std::optional<models::PanelState> panel_;
  std::optional<Time> release_announced_;
};

// Time spent indoors between two instants.
[[nodiscard]] Millis indoors(const VehiclePlan& plan, Time from, Time to);

}  // namespace dryclock::engine
