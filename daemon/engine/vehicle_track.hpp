// One vehicle's pieces, integrated minute by minute over the air of the bays it stood in: what follows from
// the air and from what was done, however much water was left. A value: the outlook copies it to look a
// little beyond the last readings without touching the state.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "domain/view.hpp"
#include "engine/bays.hpp"
#include "engine/vehicle_plan.hpp"
#include "models/evidence.hpp"
#include "models/laid_piece.hpp"
#include "models/panel_heat.hpp"

namespace dryclock::engine {

struct ZoneLook {     // somebody looked
  models::Look look;  // in seconds as the piece counts them
  Seq event = 0;
  bool operator==(const ZoneLook&) const = default;
};

// What an inspection says of the zones that were looked at, so many seconds after lay.
void look_at(const PiecePlan& piece, const PieceAction& action, double seconds, std::vector<ZoneLook>& into);

struct PieceTrack {
  std::optional<models::LaidPiece> piece;  // absent until there is air after it was laid
  Time began;                              // then
  models::PanelState panel;
  double pace = 0.0;            // at its own panel's temperature
  double standard_hours = 0.0;  // delivered since it was laid; none where water condensed
  bool bridged = false;         // some of its minutes had no readings
  std::size_t next_action = 0;
  std::vector<ZoneLook> looks;                                   // in order
  std::map<Seq, double> turned;                                  // seconds since lay, by wrap and trim
  std::array<std::optional<double>, models::zone_kinds> held_c;  // by a heating, now
  std::array<double, models::zone_kinds> lit_w_m2{};             // by a lamp on that zone alone, now
};

// The piece with every tool and lamp put away: nobody knows how long they go on.
[[nodiscard]] models::LaidPiece unheated(const PieceTrack& track);

class VehicleTrack {
 public:
  // `slowest`: the panel that stands for the vehicle where no piece does.
  explicit VehicleTrack(const models::PanelThermal& slowest = {}) : slowest_(slowest) {}

  // `ask` the air up to `until`. Past the last readings it waits (state), or goes on with the air held
  // as it was (view).
  enum class Beyond { wait, hold };
  void integrate(const VehiclePlan& plan, const Bays& bays, Time until, Beyond beyond);

  // Integrates some pieces again from their laying to where the vehicle is: what was entered late, or taken
  // back, about them alone. Pieces do not act on each other.
  void refold(const VehiclePlan& plan, const Bays& bays, const std::set<PieceId>& pieces);

  [[nodiscard]] std::optional<Time> integrated() const { return integrated_; }
  [[nodiscard]] const PieceTrack* piece(PieceId id) const;
  // Temperature of the vehicle's panels where nothing measures it; absent before there was any air.
  [[nodiscard]] std::optional<double> panel_c() const;

 private:
  struct Step;
  [[nodiscard]] bool look(const VehiclePlan& plan, const Bays& bays, Time t, Time until, Beyond beyond,
                          Step& step) const;
  void apply(const VehiclePlan& plan, const Bays& bays, const Step& step);
  void warm_vehicle(const VehiclePlan& plan, const Step& step);
  static void start(const VehiclePlan& plan, const PiecePlan& piece, const Bays& bays, PieceTrack& track,
                    const Step& step);
  static void advance(PieceTrack& track, const PiecePlan& piece, const Step& step);
  static void heat(PieceTrack& track, const PiecePlan& piece, const Step& step);
  [[nodiscard]] static double light(PieceTrack& track, const PiecePlan& piece, const Step& step);
  static void act(const PiecePlan& piece, PieceTrack& track, Time t);

  models::PanelThermal slowest_;
  std::optional<Time> integrated_;
  std::map<PieceId, PieceTrack> pieces_;
  std::optional<models::PanelState> panel_;
};

// The last point of a piece's trace at or before so many seconds since lay.
[[nodiscard]] std::size_t point_at(const models::LaidPiece& piece, double seconds);

// Time spent indoors between two instants.
[[nodiscard]] Millis indoors(const VehiclePlan& plan, Time from, Time to);

}  // namespace dryclock::engine
