// Steps that were done before they were called ready, with what was known at the moment they were entered.
// That moment is kept: what is learnt later does not change it.
#pragma once

#include <map>
#include <vector>

#include "domain/view.hpp"
#include "engine/calls.hpp"
#include "engine/shop.hpp"
#include "models/shop_belief.hpp"

namespace dryclock::engine {

class EarlySteps {
 public:
  // To be asked before the event is applied to the shop.
  [[nodiscard]] static bool is_early(const Event& event, const Shop& shop, const Calls& calls);
  void note(const Event& event, const Shop& shop, const Calls& calls, const models::ShopBelief& belief);
  // Without those whose event does not stand.
  [[nodiscard]] std::vector<EarlyStep> of(PieceId piece, const Shop& shop) const;

 private:
  std::map<PieceId, std::vector<EarlyStep>> steps_;
};

}  // namespace dryclock::engine
