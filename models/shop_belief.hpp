// What a shop has shown of its film, its hands and its eyes: by Bayes' rule, from looks at pieces.
//
// A lattice over what all pieces share: the deviation of the hands' water, the eye, how much the pieces have
// in common (sharings), how the water lies (shop_worlds), and for each film the deviation of its
// resistance. What is a piece's or a zone's own is integrated out. Films know of each other through the hands
// alone.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "models/course_trace.hpp"
#include "models/inspection.hpp"
#include "models/lanes.hpp"
#include "models/piece_outlook.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

// What was seen at one zone of a piece, at a point of its trace.
struct Look {
  std::size_t zone = 0;
  std::size_t point = 0;
  Finding finding = Finding::wet;
};

// Evenly spaced deviations of logarithms.
struct Deviations {
  double first = -1.2, step = 0.2;
  std::size_t count = 13;
  [[nodiscard]] double operator[](std::size_t i) const { return first + step * static_cast<double>(i); }
};
inline constexpr Deviations film_lattice{}, hand_lattice{-1.6, 0.2, 17};

// How likely what was seen at one piece is, at every node of the lattice of one film.
class PieceLikelihood {
 public:
  // `looks` in order of time; within ten minutes a zone's later one replaces the earlier, and those that
  // are left share much of their error: one pair of eyes at one zone.
  PieceLikelihood(const CourseTrace& trace, const Lanes& log_factor, const std::vector<ZoneWater>& zones,
                  const std::vector<Look>& looks, const ShopLevels& levels);
  [[nodiscard]] const std::vector<double>& nodes() const { return nodes_; }

 private:
  std::vector<double> nodes_;
};

class ShopBelief {
 public:
  explicit ShopBelief(const ShopLevels& levels) : levels_(levels) {}

  void learn(const std::string& film, const PieceLikelihood& seen);

  // What the shop may be for a piece of this film. Weights sum to 1.
  [[nodiscard]] std::vector<ShopNode> nodes(const std::string& film) const;
  [[nodiscard]] const ShopLevels& levels() const { return levels_; }

 private:
  [[nodiscard]] std::vector<double> shared_weights(const std::string& without) const;

  ShopLevels levels_;
  std::map<std::string, std::vector<double>> films_;  // products of likelihoods
};

}  // namespace dryclock::models
