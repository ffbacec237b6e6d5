// The chance that a piece is where a step asks it to be, at points of its course, given what the shop is.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <tuple>
#include <vector>

#include "models/catalogue.hpp"
#include "models/course_trace.hpp"
#include "models/lanes.hpp"
#include "models/reach.hpp"
#include "models/shop_levels.hpp"

namespace dryclock::models {

// liquid_gone  a tenth of no zone is wet any more
// wrap         the edge's liquid gone, its moisture low; the field's bond holds while the edge is pulled
// trim         the edge's liquid gone, its moisture lower, its own bond holds
// clear        hardly anything wet anywhere
// may_leave    edges clear and held; elsewhere no more than closed pockets
enum class Step : std::uint8_t { liquid_gone, wrap, trim, clear, may_leave };
inline constexpr std::size_t steps = 5;

// What a step asks of a zone of this kind. A piece without edges is asked at its other zones; one without a
// field holds by its edges.
[[nodiscard]] ZoneAsks asks_of(Step step, ZoneKind kind, bool has_edge, bool has_field);

struct ZoneWater {
  ZoneKind kind = ZoneKind::field;
  double usual = 1.0;  // g/m2 right after the squeegee, the middle of what usual hands leave
  Margin margin;       // of an edge; width 0: none
};

class PieceOutlook {
 public:
  // `log_factor`: ln of the course's film resistances against the stack's, evenly spaced and rising.
  // The trace must outlive this.
  PieceOutlook(const CourseTrace& trace, const FilmModes& modes, const Lanes& log_factor,
               std::vector<ZoneWater> zones, const ShopLevels& levels);

  // The chance to be there at the trace's point. [0..1] Never falls with time for a given node.
  [[nodiscard]] double chance(Step step, std::size_t point, const ShopNode& node);
  // Over all of what the shop may be.
  [[nodiscard]] double chance(Step step, std::size_t point, const std::vector<ShopNode>& nodes);
  // When the chance comes to `level`, between points. [s since lay] +infinity: not within the trace.
  [[nodiscard]] double when(Step step, double level, const std::vector<ShopNode>& nodes);

 private:
  struct Key {
    Step step;
    std::size_t zone, point, world;
    bool operator<(const Key& other) const {
      return std::tie(step, zone, point, world) < std::tie(other.step, other.zone, other.point, other.world);
    }
  };
  // ln of the most water, lane by lane.
  const Lanes& most(const Key& key);

  const CourseTrace& trace_;
  std::array<double, looks_back> film_delays_;
  Lanes log_factor_;
  std::vector<ZoneWater> zones_;
  ShopLevels levels_;
  bool has_edge_ = false, has_field_ = false;
  std::map<Key, Lanes> most_;
};

}  // namespace dryclock::models
