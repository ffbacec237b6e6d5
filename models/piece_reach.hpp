// The chance that a piece is where a milestone asks it to be, and what its zones hold, at moments of its
// course, given what the shop is.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <span>
#include <tuple>
#include <vector>

#include "models/laid_piece.hpp"
#include "models/milestone.hpp"
#include "models/quantiles.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

class PieceReach {
 public:
  // The piece must outlive this. Its trace may go beyond now (a forecast).
  PieceReach(const LaidPiece& piece, const Thresholds& thresholds, const ShopLevels& levels);

  // The chance to be there at a point of the trace, for each node. [0..1] Never falls with time.
  void chances(Milestone which, std::size_t point, std::span<const ShopNode> nodes, std::span<double> out);
  // Over all of what the shop may be, by the nodes' weights.
  [[nodiscard]] double chance(Milestone which, std::size_t point, std::span<const ShopNode> nodes);
  // The zone that is least likely to be there.
  [[nodiscard]] std::size_t limiting_zone(Milestone which, std::size_t point,
                                          std::span<const ShopNode> nodes);
  // Of one zone: that it is at what the milestone asks.
  [[nodiscard]] double zone_chance(Milestone which, std::size_t zone, std::size_t point,
                                   std::span<const ShopNode> nodes);

 private:
  // Zones in one run with margins alike: as much water is the most for all of them.
  struct Place {
    const CourseTrace* trace;
    Margin margin;
    std::array<double, looks_back> film_delays;
  };
  // Zones that are equal in all that counts.
  struct Part {
    std::size_t place = 0;
    ZoneKind kind = ZoneKind::field;
    double log_usual = 0.0;
    std::size_t count = 0;
  };
  enum class Ask { wet_share, excess, missing_bond };
  struct Key {
    Ask ask;
    double limit;  // at most
    std::size_t place, point;
    bool operator<(const Key& other) const {
      return std::tie(point, place, ask, limit) < std::tie(other.point, other.place, other.ask, other.limit);
    }
  };
  // What tells of the water of a place, in each lane.
  using LaneShares = std::array<WetShares, members>;
  // ln of the most water, for each world of the shop.
  using Most = std::vector<Lanes>;
  struct Asked {
    const Part* part;
    std::array<const Most*, 3> most;  // of what is asked, one after another
    std::size_t count;
  };

  [[nodiscard]] std::size_t place_of(const LaidPiece& piece, std::size_t zone);
  [[nodiscard]] Asked asked(Milestone which, const Part& part, std::size_t point);
  const Most& most(const Key& key);
  // Whether two worlds differ by the layer's spread alone, as far as this asks.
  [[nodiscard]] bool seen_alike(const Key& key, const ShopWorld& a, const ShopWorld& b) const;
  [[nodiscard]] Most work_out(const Key& key);
  // ln of how much more water a zone may have been left with than a node's hands leave, in film like this.
  [[nodiscard]] static double to_spare(const Asked& zone, const ShopNode& node, const LanePlace& film);
  [[nodiscard]] double chance(std::span<const Asked> asked, const ShopNode& node) const;
  [[nodiscard]] double nearly(const Asked& zone, std::span<const ShopNode> nodes) const;

  Thresholds thresholds_;
  ShopLevels levels_;
  std::vector<Place> places_;
  std::vector<Part> parts_;
  std::vector<std::size_t> part_of_;  // each zone's
  bool has_edge_ = false, has_field_ = false;
  std::map<Key, Most> most_;
  // By what is asked, place and point: for each world that is not seen as one before it.
  std::map<std::tuple<Ask, std::size_t, std::size_t>, std::vector<LaneShares>> seen_;
};

// What a zone holds, over all of what the shop may be.
struct ZoneHolds {
  Quantiles water;      // g/m2 of liquid left, mean over the zone
  Quantiles wet_share;  // of its area
  Quantiles excess;     // moisture from the liquid still in the film, of what it holds over liquid
  Quantiles bond;       // of the final strength, mean over the zone
};
[[nodiscard]] ZoneHolds zone_holds(const LaidPiece& piece, std::size_t zone, std::size_t point,
                                   std::span<const ShopNode> nodes, const ShopLevels& levels);

}  // namespace dryclock::models
