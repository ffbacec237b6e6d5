#include "engine/still_air.hpp"

#include "engine/minutes.hpp"
#include "engine/vehicle_track.hpp"

namespace dryclock::engine {
namespace {

// The soonest of what is offered that lies after t.
class Soonest {
 public:
  explicit Soonest(Time t) : after_(t) {}

  void offer(Time at) {
    if (at > after_ && (!soonest_ || at < *soonest_)) {
      soonest_ = at;
    }
  }
  void offer(std::optional<Time> at) {
    if (at) {
      offer(*at);
    }
  }
  [[nodiscard]] std::optional<Time> get() const { return soonest_; }

 private:
  Time after_;
  std::optional<Time> soonest_;
};

void offer_air(const VehiclePlan& plan, const Bays& bays, Time t, Soonest& soonest) {
  if (const BayAir* air = bays.find(plan.bay_at(t))) {
    soonest.offer(air->next_stretch(t));
  }
  for (const auto& stay : plan.stays) {
    soonest.offer(stay.from);
  }
}

}  // namespace

std::optional<Time> next_change(const VehiclePlan& plan, const Bays& bays, Time t) {
  Soonest soonest{t};
  offer_air(plan, bays, t, soonest);
  soonest.offer(plan.ended);
  // Lamps and heatings warm nothing that is computed while there is no air.
  for (const auto& piece : plan.pieces) {
    soonest.offer(piece.from);
    soonest.offer(piece.ended);
    for (const auto& action : piece.actions) {
      soonest.offer(action.at);
    }
  }
  return soonest.get();
}

std::optional<Time> next_air(const VehiclePlan& plan, const Bays& bays, Time t) {
  Soonest soonest{t - minute};
  offer_air(plan, bays, t - minute, soonest);
  const auto begins = soonest.get();
  return begins ? std::optional<Time>{*begins + minute} : std::nullopt;
}

}  // namespace dryclock::engine
