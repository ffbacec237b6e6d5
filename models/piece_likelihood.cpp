#include "models/piece_likelihood.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace dryclock::models {
namespace {

// ln water against the usual, on which a zone's own part is summed.
constexpr Deviations waters{-3.0, 0.1, 61};
// ln resistance, likewise.
constexpr Deviations resistances{-1.6, 0.2, 17};

constexpr double same_reading = 0.7;  // of the blur's variance, of later looks at a zone. Assumption
constexpr double blur_sd = 0.74;      // of ln water: the logistic of inspection.cpp

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
  // Bilinear in the first two.
  [[nodiscard]] double at(double resistance, double water, std::size_t e, std::size_t s,
                          std::size_t w) const {
    const auto place = [](const Deviations& on, double value) {
      return std::clamp((value - on.first) / on.step, 0.0, static_cast<double>(on.count - 1) - 1e-9);
    };
    const double x = place(resistances, resistance), y = place(waters, water);
    const auto i = static_cast<std::size_t>(x), k = static_cast<std::size_t>(y);
    const double a = x - static_cast<double>(i), b = y - static_cast<double>(k);
    const auto value = [&](std::size_t p, std::size_t q) { return values_[index(p, q, e, s, w)]; };
    return (1.0 - a) * ((1.0 - b) * value(i, k) + b * value(i, k + 1)) +
           a * ((1.0 - b) * value(i + 1, k) + b * value(i + 1, k + 1));
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
            left_.push_back(share * water * world.water.spread->left_share(log_water, drunk));
          } else {
            by_share_[i] *= share_sight(seen.sign, share * world.water.spread->wet_share(log_water, drunk));
          }
        }
      }
    }
    // How likely all that was seen is. What the eye saw shares a reading of this zone.
    void see(double eye, std::vector<double>& seen) const {
      const bool alone = signs_.size() <= 1;
      const double own = alone ? 1.0 : std::sqrt(1.0 - same_reading);
      std::fill(seen.begin(), seen.end(), 0.0);
      for (const Deviate& reading : three_deviates) {
        if (alone && reading.at != 0.0) continue;
        const double off = eye + reading.at * blur_sd * std::sqrt(same_reading);
        for (std::size_t i = 0; i < waters.count; ++i) {
          double all = alone ? 1.0 : reading.weight;
          for (std::size_t k = 0; k < signs_.size(); ++k) {
            all *= sight(signs_[k], left_[k * waters.count + i] * std::exp(-off), own);
          }
          seen[i] += all * by_share_[i];
        }
      }
    }

   private:
    std::vector<Sign> signs_;       // the eye's
    std::vector<double> left_;      // g/m2 at each of them, sign by sign
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
  std::size_t node = 0;
  for (std::size_t f = 0; f < film_lattice.count; ++f) {
    for (std::size_t h = 0; h < hand_lattice.count; ++h) {
      for (std::size_t e = 0; e < eye_nodes; ++e) {
        for (std::size_t s = 0; s < sharing_nodes; ++s) {
          for (std::size_t w = 0; w < world_nodes(); ++w, ++node) {
            for (const Deviate& film : three_deviates) {
              for (const Deviate& piece : three_deviates) {
                double all = film.weight * piece.weight;
                for (const ZoneLikelihood& zone : seen) {
                  all *= zone.at(film_lattice[f] + film_piece[s] * film.at,
                                 hand_lattice[h] + levels.piece() * piece.at, e, s, w);
                }
                nodes_[node] += all;
              }
            }
          }
        }
      }
    }
  }
}

}  // namespace dryclock::models
