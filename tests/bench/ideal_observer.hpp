// What anybody could learn from the same looks who weighs them without a lattice: shops drawn from the
// levels, continuous in all that they are, each weighed by how likely what was seen is under it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "calibration.hpp"
#include "models/evidence.hpp"

namespace dryclock::bench {

class IdealObserver {
 public:
  IdealObserver(std::uint32_t own_seed, std::size_t shops);
  // Tells all of a shop but its film and its hands.
  void tell(const shop_truth::Shop& shop, double eye);
  void learn(const models::PieceEvidence& seen);
  // The median of the next piece's time until its wrap. [s since lay]
  [[nodiscard]] double next(const shop_truth::TrueTimes& times);

 private:
  struct One {
    shop_truth::Shop shop;
    models::ShopLevels levels;
    double eye = 0.0, log_weight = 0.0;
  };
  [[nodiscard]] double most() const;

  shop_truth::Draws draws_;
  std::vector<One> shops_;
};

}  // namespace dryclock::bench
