// The chance that something has happened by each moment of a course, for each thing that the shop may be.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "domain/types.hpp"
#include "models/shop_levels.hpp"
#include "models/units.hpp"

namespace dryclock::compute {

// The moments of a forecast at which pieces are looked at: half an hour apart, later a fortieth of the time
// from now, in whole half hours. The first is now, and the only one where there is no forecast.
class Moments {
 public:
  Moments(std::size_t forecast_length, models::Seconds step);

  [[nodiscard]] std::size_t size() const { return steps_.size(); }
  [[nodiscard]] std::size_t step(std::size_t moment) const { return steps_[moment]; }  // of the forecast
  [[nodiscard]] double seconds(std::size_t moment) const {                             // from now
    return static_cast<double>(steps_[moment]) * spacing_.value();
  }
  [[nodiscard]] models::Seconds spacing() const { return spacing_; }  // of the forecast's steps
  [[nodiscard]] std::size_t half_hour() const { return half_hour_; }  // of the forecast's steps

 private:
  models::Seconds spacing_;
  std::size_t half_hour_;
  std::vector<std::size_t> steps_;
};

// By moment; what was reached once counts, so it never falls. Linear between moments.
class Curve {
 public:
  explicit Curve(const Moments& moments) : moments_(&moments), chance_(moments.size(), 0.0) {}

  [[nodiscard]] double& operator[](std::size_t moment) { return chance_[moment]; }
  [[nodiscard]] double operator[](std::size_t moment) const { return chance_[moment]; }
  // When it is at `level`, seconds from now; absent where it never is.
  [[nodiscard]] std::optional<double> crossing(double level) const;
  // Beyond the last moment its value.
  [[nodiscard]] double at(double seconds) const;

 private:
  const Moments* moments_;
  std::vector<double> chance_;
};

// By moment and node.
class Chances {
 public:
  Chances(std::size_t moments, std::size_t nodes, double chance)
      : moments_(moments), nodes_(nodes), chance_(moments * nodes, chance) {}

  [[nodiscard]] std::span<double> at(std::size_t moment) { return {&chance_[moment * nodes_], nodes_}; }
  [[nodiscard]] std::span<const double> at(std::size_t moment) const {
    return {&chance_[moment * nodes_], nodes_};
  }
  [[nodiscard]] std::size_t moments() const { return moments_; }
  // Both: `partner` is the other's node for each of these.
  void multiply(const Chances& other, std::span<const std::size_t> partner);
  // What it comes to over the nodes, by their weights. `moments`: of these.
  [[nodiscard]] Curve over(std::span<const models::ShopNode> nodes, const Moments& moments) const;

 private:
  std::size_t moments_, nodes_;
  std::vector<double> chance_;
};

// A moment at which the chances were worked out.
struct Knot {
  std::size_t moment = 0;
  std::vector<double> chances;  // by node
  double deviate = 0.0;         // over all nodes, as a normal deviate
};
// Through knots in order, the first and the last moment among them: between them a monotone cubic by `clock`,
// which tells each moment's time as the chances count it and never stands still.
[[nodiscard]] Chances through(std::span<const Knot> knots, std::span<const double> clock);

// Over all nodes, by their weights.
[[nodiscard]] double mixed(std::span<const double> chances, std::span<const models::ShopNode> nodes);

// For each node of one film that of another which is the same of everything that both share: they are strata
// of the same shop in the same order, with the same weights but for those too light to be kept.
[[nodiscard]] std::vector<std::size_t> partners(std::span<const models::ShopNode> nodes,
                                                std::span<const models::ShopNode> others);

}  // namespace dryclock::compute
