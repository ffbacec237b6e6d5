// What the rechecks of all vehicles say: each vehicle is lived again once, and remembered until another
// recheck of it is told. Derived, and gone with the process.
#pragma once

#include <map>
#include <mutex>
#include <vector>

#include "config/config.hpp"
#include "domain/rechecks.hpp"

namespace dryclock::app {

// Any thread, one at a time inside.
class RecheckBook {
 public:
  // Works for some seconds at most: what is left is told as pending, and the next call goes on.
  [[nodiscard]] Result<RecheckReport> report(const Config& config);

 private:
  struct Known {
    Seq through = 0;  // the last event that speaks of its rechecks
    std::vector<RecheckedPiece> pieces;
  };
  std::mutex mutex_;
  std::map<VehicleId, Known> known_;
};

}  // namespace dryclock::app
