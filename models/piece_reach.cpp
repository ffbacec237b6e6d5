#include "models/piece_reach.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/normal.hpp"

namespace dryclock::models {

PieceReach::PieceReach(const LaidPiece& piece, const Thresholds& thresholds, const ShopLevels& levels)
    : thresholds_(thresholds), levels_(levels) {
  const auto& zones = piece.zones();
  for (std::size_t z = 0; z < zones.size(); ++z) {
    has_edge_ = has_edge_ || zones[z].kind == ZoneKind::edge;
    has_field_ = has_field_ || zones[z].kind == ZoneKind::field;
    const Part part{place_of(piece, z), zones[z].kind, std::log(zones[z].usual.value()), 1};
    const auto same = std::ranges::find_if(parts_, [&](const Part& other) {
      return other.place == part.place && other.kind == part.kind && other.log_usual == part.log_usual;
    });
    part_of_.push_back(static_cast<std::size_t>(same - parts_.begin()));
    if (same == parts_.end()) {
      parts_.push_back(part);
    } else {
      ++same->count;
    }
  }
}

std::size_t PieceReach::place_of(const LaidPiece& piece, std::size_t zone) {
  const CourseTrace* trace = &piece.trace(zone);
  const Margin margin = piece.margin(zone);
  const auto same = std::ranges::find_if(
      places_, [&](const Place& other) { return other.trace == trace && other.margin == margin; });
  const auto place = static_cast<std::size_t>(same - places_.begin());
  if (same == places_.end()) places_.push_back({trace, margin, piece.film_delays(zone)});
  return place;
}

const PieceReach::Most& PieceReach::most(const Key& key) {
  const auto known = most_.find(key);
  return known != most_.end() ? known->second : most_.emplace(key, work_out(key)).first->second;
}

namespace {

// ln of the most water, g/m2, in each lane.
Lanes most_in_lanes(const std::array<WetShares, members>& seen, const WaterWorld& world, double limit) {
  const double unit = std::log(world.break_up);
  // Against what the film has drunk, from lane to lane: the next one lies nearly on the parabola.
  double last = std::numeric_limits<double>::quiet_NaN(), rise = 0.0, bend = 0.0;
  Lanes most{};
  for (std::size_t m = 0; m < members; ++m) {
    const double guess = seen[m].log_drunk() + last + rise + bend;
    const double here = seen[m].most_water(*world.spread, limit, guess);
    most[m] = here + unit;
    const double beyond = here - seen[m].log_drunk();
    const double step = m > 0 ? beyond - last : 0.0;
    bend = m > 1 ? step - rise : 0.0;
    rise = step;
    last = beyond;
  }
  return most;
}

}  // namespace

bool PieceReach::seen_alike(const Key& key, const ShopWorld& a, const ShopWorld& b) const {
  return a.water.break_up == b.water.break_up &&
         (places_[key.place].margin.width <= 0.0 || a.margin_speed == b.margin_speed) &&
         (key.ask != Ask::missing_bond ||
          (a.water.law == b.water.law && a.water.bond_slowness == b.water.bond_slowness));
}

PieceReach::Most PieceReach::work_out(const Key& key) {
  const Place& place = places_[key.place];
  const CourseTrace& trace = *place.trace;
  // Other limits were asked of the same.
  std::vector<LaneShares>& all_seen = seen_[{key.ask, key.place, key.point}];
  const bool seen_before = !all_seen.empty();
  std::array<LooksBack, members> film_looks;
  if (key.ask == Ask::excess && !seen_before) {
    for (std::size_t m = 0; m < members; ++m) {
      film_looks[m] = excess_looks(trace, key.point, m, place.film_delays);
    }
  }
  const auto see = [&](const ShopWorld& world) {
    Margin margin = place.margin;
    margin.width /= world.margin_speed;
    LooksBack looks;
    if (key.ask == Ask::missing_bond) looks = bond_looks(trace, key.point, world.water);
    LaneShares seen;
    for (std::size_t m = 0; m < members; ++m) {
      if (key.ask == Ask::wet_share) {
        const Moment now = moment_now(trace, key.point, m, world.water, margin);
        seen[m] = WetShares({&now, 1});
      } else {
        seen[m] =
            WetShares(moments(trace, key.ask == Ask::excess ? film_looks[m] : looks, m, world.water, margin));
      }
    }
    return seen;
  };
  const auto& worlds = shop_worlds();
  Most most(worlds.size());
  std::vector<bool> known(worlds.size());
  for (std::size_t w = 0, sight = 0; w < worlds.size(); ++w) {
    if (known[w]) continue;
    if (!seen_before) all_seen.push_back(see(worlds[w]));
    const LaneShares& seen = all_seen[sight++];
    // Of all in which the same is seen, once for each spread.
    std::map<const WaterSpread*, Lanes> by_spread;
    for (std::size_t other = w; other < worlds.size(); ++other) {
      if (known[other] || !seen_alike(key, worlds[w], worlds[other])) continue;
      const WaterWorld& water = worlds[other].water;
      const auto same = by_spread.find(water.spread);
      most[other] =
          same != by_spread.end()
              ? same->second
              : by_spread.emplace(water.spread, most_in_lanes(seen, water, key.limit)).first->second;
      known[other] = true;
    }
  }
  return most;
}

PieceReach::Asked PieceReach::asked(Milestone which, const Part& part, std::size_t point) {
  const ZoneAsks asks = asks_of(thresholds_, which, part.kind, has_edge_, has_field_);
  Asked all{&part, {}, 0};
  const auto also = [&](Ask ask, double limit) {
    all.most[all.count++] = &most({ask, limit, part.place, point});
  };
  if (asks.wet_share < 1.0) also(Ask::wet_share, asks.wet_share);
  if (asks.excess < 1.0) also(Ask::excess, asks.excess);
  if (asks.bond > 0.0) also(Ask::missing_bond, 1.0 - asks.bond);
  return all;
}

[[gnu::always_inline]] inline double PieceReach::to_spare(const Asked& zone, const ShopNode& node,
                                                          const LanePlace& film) {
  double most = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < zone.count; ++k) {
    most = std::min(most, film.of((*zone.most[k])[node.world]));
  }
  return most - zone.part->log_usual - node.hand;
}

// Standard deviations: 3e-6 short of sure.
constexpr double as_good_as_sure = 4.5;

// In standard deviations of one zone's own water, what is left to spare is normal; the piece's own part of
// the water and of the film's resistance are summed over.
double PieceReach::chance(std::span<const Asked> asked, const ShopNode& node) const {
  const QuickNormal& normal = QuickNormal::table();
  const Lanes& lanes = lane_log_factors();
  const double per_zone = 1.0 / node.zone;
  std::array<double, three_deviates.size()> own{};  // the piece's part of the water
  for (std::size_t i = 0; i < own.size(); ++i) {
    own[i] = levels_.piece() * three_deviates[i].at * per_zone;
  }
  const double certain = as_good_as_sure + own.back();  // it is 0 or 1 whatever the piece's part
  double sum = 0.0;
  for (const Deviate& film : three_deviates) {
    const LanePlace place = place_among(lanes, node.film + node.film_piece * film.at);
    std::array<double, own.size()> all{};
    for (std::size_t i = 0; i < all.size(); ++i) {
      all[i] = film.weight * three_deviates[i].weight;
    }
    for (const Asked& zone : asked) {
      const double spare = to_spare(zone, node, place) * per_zone;
      if (spare >= certain) continue;
      if (spare <= -certain) {
        all = {};
        break;
      }
      for (std::size_t i = 0; i < all.size(); ++i) {
        const double one = normal.below(spare - own[i]);
        for (std::size_t each = 0; each < zone.part->count; ++each) {
          all[i] *= one;
        }
      }
    }
    for (const double one : all) {
      sum += one;
    }
  }
  return std::min(1.0, sum);
}

void PieceReach::chances(Milestone which, std::size_t point, std::span<const ShopNode> nodes,
                         std::span<double> out) {
  std::vector<Asked> all;
  for (const Part& part : parts_) {
    const Asked one = asked(which, part, point);
    if (one.count > 0) all.push_back(one);
  }
  for (std::size_t n = 0; n < nodes.size(); ++n) {
    out[n] = nodes[n].weight > 0.0 ? chance(all, nodes[n]) : 0.0;
  }
}

double PieceReach::chance(Milestone which, std::size_t point, std::span<const ShopNode> nodes) {
  std::vector<double> each(nodes.size());
  chances(which, point, nodes, each);
  double sum = 0.0;
  for (std::size_t n = 0; n < nodes.size(); ++n) {
    sum += nodes[n].weight * each[n];
  }
  return std::min(1.0, sum);
}

double PieceReach::zone_chance(Milestone which, std::size_t zone, std::size_t point,
                               std::span<const ShopNode> nodes) {
  Part alone = parts_[part_of_[zone]];
  alone.count = 1;
  const Asked one = asked(which, alone, point);
  if (one.count == 0) return 1.0;
  double sum = 0.0;
  for (const ShopNode& node : nodes) {
    if (node.weight > 0.0) sum += node.weight * chance({&one, 1}, node);
  }
  return std::min(1.0, sum);
}

// Of one zone alone, what is its own, the piece's and the film's together as one deviate: enough to tell
// zones apart.
double PieceReach::nearly(const Asked& zone, std::span<const ShopNode> nodes) const {
  const QuickNormal& normal = QuickNormal::table();
  double sum = 0.0;
  for (const ShopNode& node : nodes) {
    const double piece = levels_.piece();
    const double own = std::sqrt(node.zone * node.zone + piece * piece + node.film_piece * node.film_piece);
    sum += node.weight * normal.below(to_spare(zone, node, place_among(lane_log_factors(), node.film)) / own);
  }
  return sum;
}

std::size_t PieceReach::limiting_zone(Milestone which, std::size_t point, std::span<const ShopNode> nodes) {
  std::size_t limiting = 0;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t z = 0; z < part_of_.size(); ++z) {
    const double here = nearly(asked(which, parts_[part_of_[z]], point), nodes);
    if (here < least) {
      least = here;
      limiting = z;
    }
  }
  return limiting;
}

namespace {

// One zone at one point of its trace, as one way that water may lie has it.
class ZoneAt {
 public:
  struct Holds {
    double water, wet_share, excess, bond;
  };

  ZoneAt(const LaidPiece& piece, std::size_t zone, std::size_t point, const ShopWorld& world,
         const std::array<LooksBack, members>& film_looks)
      : world_(world.water) {
    const CourseTrace& trace = piece.trace(zone);
    Margin margin = piece.margin(zone);
    margin.width /= world.margin_speed;
    const LooksBack contacts = bond_looks(trace, point, world_);
    for (std::size_t m = 0; m < members; ++m) {
      now_[m] = moment_now(trace, point, m, world_, margin);
      excess_[m] = moments(trace, film_looks[m], m, world_, margin);
      bond_[m] = moments(trace, contacts, m, world_, margin);
    }
  }

  // In film of this resistance, with so much water at lay, as ln of g/m2.
  [[nodiscard]] Holds of(double log_factor, double log_water) const {
    const LanePlace place = place_among(lane_log_factors(), log_factor);
    const Moment now = at(place, [this](std::size_t m) { return now_[m]; });
    Moments excess, bond;
    for (std::size_t i = 0; i < most_moments; ++i) {
      excess[i] = at(place, [&](std::size_t m) { return excess_[m][i]; });
      bond[i] = at(place, [&](std::size_t m) { return bond_[m][i]; });
    }
    const WaterSpread& lies = *world_.spread;
    const double in_units = log_water - std::log(world_.break_up);
    const auto wet = [&](std::span<const Moment> moments) {
      return WetShares(moments).at(lies, in_units).value;
    };
    return {now.margin * std::exp(log_water) * lies.left_share(in_units, now.drunk), wet({&now, 1}),
            wet(excess), 1.0 - wet(bond)};
  }

 private:
  template <class MomentOf>
  static Moment at(const LanePlace& place, MomentOf of) {
    Moment all = of(place.first);
    if (all.drunk < 0.0) return all;  // before lay, in every lane
    all.drunk = all.margin = 0.0;
    for (std::size_t k = 0; k < place.weight.size(); ++k) {
      const Moment lane = of(place.first + k);
      all.drunk += place.weight[k] * lane.drunk;
      all.margin += place.weight[k] * lane.margin;
    }
    all.drunk = std::max(0.0, all.drunk);
    all.margin = std::clamp(all.margin, 0.0, 1.0);
    return all;
  }

  WaterWorld world_;
  std::array<Moment, members> now_;
  std::array<Moments, members> excess_, bond_;
};

}  // namespace

namespace {

// One piece stands for each node: what is its own is drawn evenly over both normal distributions together, by
// an additive recurrence of irrational steps, the powers of the plastic number's inverse (Roberts 2018).
constexpr double film_step = 0.7548776662466927, water_step = 0.5698402909980532;
double evenly_drawn(std::size_t n, double step) {
  const double at = 0.5 + step * static_cast<double>(n);
  return normal_quantile(at - std::floor(at));
}

}  // namespace

ZoneHolds zone_holds(const LaidPiece& piece, std::size_t zone, std::size_t point,
                     std::span<const ShopNode> nodes, const ShopLevels& levels) {
  constexpr double next_to_nothing = 1e-5;  // of the weight of all
  const CourseTrace& trace = piece.trace(zone);
  const auto film_delays = piece.film_delays(zone);
  std::array<LooksBack, members> film_looks;
  for (std::size_t m = 0; m < members; ++m) {
    film_looks[m] = excess_looks(trace, point, m, film_delays);
  }
  std::vector<ZoneAt> worlds;
  for (const ShopWorld& world : shop_worlds()) {
    worlds.emplace_back(piece, zone, point, world, film_looks);
  }
  const double log_usual = std::log(piece.zones()[zone].usual.value());
  std::vector<Weighed> water, wet_share, excess, bond;
  for (std::size_t n = 0; n < nodes.size(); ++n) {
    const ShopNode& node = nodes[n];
    if (node.weight < next_to_nothing) continue;
    const double film = node.film + node.film_piece * evenly_drawn(n, film_step);
    const double log_water =
        log_usual + node.hand + std::hypot(levels.piece(), node.zone) * evenly_drawn(n, water_step);
    const auto holds = worlds[node.world].of(film, log_water);
    water.push_back({holds.water, node.weight});
    wet_share.push_back({holds.wet_share, node.weight});
    excess.push_back({holds.excess, node.weight});
    bond.push_back({holds.bond, node.weight});
  }
  return {quantiles(std::move(water)), quantiles(std::move(wet_share)), quantiles(std::move(excess)),
          quantiles(std::move(bond))};
}

}  // namespace dryclock::models
