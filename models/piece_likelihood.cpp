#include "models/piece_likelihood.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>

namespace dryclock::models {
namespace {

// ln water against the usual, on which a zone's own part is summed.
constexpr Deviations waters{-3.0, 0.1, 61};
// ln resistance, likewise.
constexpr Deviations resistances{-1.6, 0.2, 17};

constexpr double same_reading = 0.7;  // of the blur's variance, of later looks at a zone. Assumption
constexpr double blur_sd = 0.74;      // of ln water: the logistic of inspection.cpp

// sight() over ln of the water, alone and beside others of the same zone: it is asked for a million times.
constexpr double nothing = 1e-6;  // g/m2: clear, however it is read
constexpr Deviations sights{-16.0, 0.02, 1101};
using Sights = std::array<std::array<std::vector<double>, 3>, 2>;
Sights make_sights() {
  Sights all;
  for (std::size_t alone = 0; alone < all.size(); ++alone) {
    const double own = alone != 0 ? 1.0 : std::sqrt(1.0 - same_reading);
    for (const Sign sign : {Sign::wet, Sign::hazy, Sign::clear}) {
      auto& table = all[alone][static_cast<std::size_t>(sign)];
      for (std::size_t i = 0; i < sights.count; ++i) {
        table.push_back(sight(sign, std::exp(sights[i]), own));
      }
    }
  }
  return all;
}
double sight_at(Sign sign, bool alone, double log_water) {
  static const Sights all = make_sights();
  const auto& table = all[alone ? 1 : 0][static_cast<std::size_t>(sign)];
  const double at =
      std::clamp((log_water - sights.first) / sights.step, 0.0, static_cast<double>(sights.count - 1) - 1e-9);
  const auto i = static_cast<std::size_t>(at);
  return table[i] + (at - static_cast<double>(i)) * (table[i + 1] - table[i]);
}

// Between two of a lattice's.
struct Place {
  std::size_t before = 0;
  double share = 0.0;  // of the next
};
Place place_on(const Deviations& lattice, double value) {
  const double at =
      std::clamp((value - lattice.first) / lattice.step, 0.0, static_cast<double>(lattice.count - 1) - 1e-9);
  const auto before = static_cast<std::size_t>(at);
  return {before, at - static_cast<double>(before)};
}

// How likely what was seen of one zone is: over resistance, hands and piece together (as `waters`), eye,
// share, world.
class ZoneLikelihood {
 public:
  ZoneLikelihood(const ZoneEvidence& zone, const ShopLevels& levels)
      : values_(resistances.count * waters.count * eye_nodes * sharing_nodes * world_nodes()) {
    std::vector<double> seen(waters.count);
    for (std::size_t r = 0; r < resistances.count; ++r) {
      for (std::size_t w = 0; w < world_nodes(); ++w) {
        const Truth truth(zone, resistances[r], shop_worlds()[w]);
        for (std::size_t e = 0; e < eye_nodes; ++e) {
          truth.see(levels.eye * three_deviates[e].at, seen);
          for (std::size_t s = 0; s < sharing_nodes; ++s) {
            spread(seen, shared(levels, sharings[s]).zone(), r, e, s, w);
          }
        }
      }
    }
  }
  // Multiplies `all`, a value for each world, by how likely it is. Bilinear in the first two.
  void weigh(const Place& resistance, const Place& water, std::size_t e, std::size_t s,
             std::vector<double>& all) const {
    const double a = resistance.share, b = water.share;
    const auto from = [&](std::size_t r, std::size_t w) {
      return &values_[index(resistance.before + r, water.before + w, e, s, 0)];
    };
    const double *low_low = from(0, 0), *low_high = from(0, 1), *high_low = from(1, 0),
                 *high_high = from(1, 1);
    for (std::size_t w = 0; w < all.size(); ++w) {
      all[w] *= (1.0 - a) * ((1.0 - b) * low_low[w] + b * low_high[w]) +
                a * ((1.0 - b) * high_low[w] + b * high_high[w]);
    }
  }

 private:
  [[nodiscard]] static std::size_t index(std::size_t r, std::size_t water, std::size_t e, std::size_t s,
                                         std::size_t w) {
    return (((r * waters.count + water) * eye_nodes + e) * sharing_nodes + s) * world_nodes() + w;
  }
  // What was there to be seen if the film and the shop were so, over `waters`.
  class Truth {
   public:
    Truth(const ZoneEvidence& zone, double resistance, const ShopWorld& world)
        : by_share_(waters.count, 1.0) {
      Margin margin = zone.margin;
      margin.width /= world.margin_speed;
      for (const Seen& seen : zone.seen) {
        const double drunk = between_lanes(seen.drunk, lane_log_factors(), resistance) / world.water.break_up;
        const double share = margin.left(seen.front_squared);
        const bool by_eye = sort_of(seen.sign) == SignSort::eye;
        if (by_eye) signs_.push_back(seen.sign);
        for (std::size_t i = 0; i < waters.count; ++i) {
          const double water = zone.usual * std::exp(waters[i]);
          const double log_water = std::log(water / world.water.break_up);
          if (by_eye) {
            const double left = share * water * world.water.spread->left_share(log_water, drunk);
            log_left_.push_back(std::log(std::max(left, nothing)));
          } else {
            by_share_[i] *= share_sight(seen.sign, share * world.water.spread->wet_share(log_water, drunk));
          }
        }
      }
    }
    // How likely all that was seen is. What the eye saw shares a reading of this zone.
    void see(double eye, std::vector<double>& seen) const {
      const bool alone = signs_.size() <= 1;
      std::fill(seen.begin(), seen.end(), 0.0);
      for (const Deviate& reading : three_deviates) {
        if (alone && reading.at != 0.0) continue;
        const double off = eye + reading.at * blur_sd * std::sqrt(same_reading);
        for (std::size_t i = 0; i < waters.count; ++i) {
          double all = alone ? 1.0 : reading.weight;
          for (std::size_t k = 0; k < signs_.size(); ++k) {
            all *= sight_at(signs_[k], alone, log_left_[k * waters.count + i] - off);
          }
          seen[i] += all * by_share_[i];
        }
      }
    }

   private:
    std::vector<Sign> signs_;       // the eye's
    std::vector<double> log_left_;  // ln of g/m2 at each of them, sign by sign
    std::vector<double> by_share_;  // how likely the others are
  };
  // Summed over what is the zone's own.
  void spread(const std::vector<double>& seen, double sd, std::size_t r, std::size_t e, std::size_t s,
              std::size_t w) {
    constexpr std::size_t reach = 15;  // of `waters`' steps
    std::array<double, 2 * reach + 1> kernel{};
    for (std::size_t k = 0; k < kernel.size(); ++k) {
      const double z = (static_cast<double>(k) - static_cast<double>(reach)) * waters.step / sd;
      kernel[k] = std::exp(-0.5 * z * z);
    }
    const double sum = std::accumulate(kernel.begin(), kernel.end(), 0.0);
    for (std::size_t i = 0; i < waters.count; ++i) {
      double all = 0.0;
      for (std::size_t k = 0; k < kernel.size(); ++k) {
        const std::size_t beyond = std::min(i + k, waters.count - 1 + reach);
        all += kernel[k] * seen[std::max(beyond, reach) - reach];
      }
      values_[index(r, i, e, s, w)] = all / sum;
    }
  }

  std::vector<double> values_;
};

}  // namespace

std::size_t world_nodes() {
  return shop_worlds().size();
}

std::size_t shared_nodes() {
  return hand_lattice.count * eye_nodes * sharing_nodes * world_nodes();
}

PieceLikelihood::PieceLikelihood(const PieceEvidence& evidence, const ShopLevels& levels)
    : nodes_(film_lattice.count * shared_nodes(), 0.0) {
  std::vector<ZoneLikelihood> seen;
  for (const ZoneEvidence& zone : evidence.zones) {
    if (!zone.seen.empty()) seen.emplace_back(zone, levels);
  }
  std::array<double, sharing_nodes> film_piece{};
  for (std::size_t s = 0; s < sharing_nodes; ++s) {
    film_piece[s] = shared(levels, sharings[s]).film_piece();
  }
  // One piece's own part of either, given what is common to all; in every world.
  std::vector<double> all(world_nodes());
  const auto add = [&](std::size_t f, std::size_t h, std::size_t e, std::size_t s, double* nodes) {
    for (const Deviate& film : three_deviates) {
      const Place resistance = place_on(resistances, film_lattice[f] + film_piece[s] * film.at);
      for (const Deviate& piece : three_deviates) {
        const Place water = place_on(waters, hand_lattice[h] + levels.piece() * piece.at);
        std::ranges::fill(all, film.weight * piece.weight);
        for (const ZoneLikelihood& zone : seen) {
          zone.weigh(resistance, water, e, s, all);
        }
        std::transform(all.begin(), all.end(), nodes, nodes, std::plus<>{});
      }
    }
  };
  double* nodes = nodes_.data();
  for (std::size_t f = 0; f < film_lattice.count; ++f) {
    for (std::size_t h = 0; h < hand_lattice.count; ++h) {
      for (std::size_t e = 0; e < eye_nodes; ++e) {
        for (std::size_t s = 0; s < sharing_nodes; ++s, nodes += world_nodes()) {
          add(f, h, e, s, nodes);
        }
      }
    }
  }
}

}  // namespace dryclock::models
