// What leaves the house: turns alerts and vehicles into messages for the outbox. The outbox delivers them.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "config/config.hpp"
#include "domain/effects.hpp"
#include "domain/view.hpp"

namespace dryclock::app {

class Publisher {
 public:
  explicit Publisher(std::vector<NotifyChannel> channels) : channels_(std::move(channels)) {}

  // <base>/alert/<id>, retained: raised sets it, cleared empties it. The configured channels get what was
  // raised at their level or above.
  [[nodiscard]] std::vector<Outgoing> alerts(const std::vector<AlertRow>& rows) const;
  // <base>/vehicle/<number>, retained: those whose message differs from the one sent last; empty once the
  // vehicle is released.
  [[nodiscard]] std::vector<Outgoing> vehicles(const std::vector<VehicleSummary>& vehicles);

 private:
  std::vector<NotifyChannel> channels_;
  std::map<VehicleId, std::string> sent_;
};

}  // namespace dryclock::app
