// Says which outlooks are due, and keeps the newest answers. An answer is shown, may raise an alert and may
// ask for an `announced` row; it never enters a state.
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "domain/outlook.hpp"
#include "engine/outlook_task.hpp"

namespace dryclock::engine {

class OutlookCache {
 public:
  // Tasks of open vehicles that are due at `now`: ten minutes after the last, after a row that touched the
  // vehicle, when something was learnt, or when the answer asked for it. Marks them as handed out.
  [[nodiscard]] std::vector<OutlookTask> due(const Known& known, Time now);
  // False for an answer to an older revision of its vehicle, which is dropped.
  bool apply(const OutlookAnswer& answer, const Shop& shop);
  [[nodiscard]] const OutlookAnswer* answer(VehicleId vehicle) const;

 private:
  struct HandedOut {
    Seq revision = 0;
    Time at;
    std::shared_ptr<const models::ShopBelief> belief;
  };
  [[nodiscard]] bool is_due(const Vehicle& vehicle, const Known& known, Time now) const;

  std::map<VehicleId, HandedOut> handed_out_;
  std::map<VehicleId, OutlookAnswer> answers_;
};

}  // namespace dryclock::engine
