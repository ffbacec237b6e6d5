#include "models/shop_belief.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <utility>

namespace dryclock::models {
namespace {

constexpr std::size_t eyes = three_deviates.size();
constexpr std::size_t shares = sharings.size();

// Of a film's lattice: film, hand, eye, share, world, the last running fastest. The others but the film are
// the shared ones.
std::size_t worlds() {
  return shop_worlds().size();
}
std::size_t shared_nodes() {
  return hand_lattice.count * eyes * shares * worlds();
}

// ln water against the usual, on which a zone's own part is summed.
constexpr Deviations waters{-3.0, 0.1, 61};
// ln resistance, likewise.
constexpr Deviations resistances{-1.6, 0.2, 17};

constexpr double again = 600.0;       // s within which a look replaces the one before
constexpr double same_reading = 0.7;  // of the blur's variance, of later looks at a zone. Assumption
constexpr double blur_sd = 0.74;      // of ln water: the logistic of inspection.cpp

std::vector<Look> of_zone(const std::vector<Look>& looks, std::size_t zone) {
  std::vector<Look> kept;
  for (const Look& look : looks) {
    if (look.zone != zone) continue;
    if (!kept.empty() && look.seconds - kept.back().seconds < again) kept.pop_back();
    kept.push_back(look);
  }
  return kept;
}

// How likely the looks at one zone are: over resistance, hands and piece together (as `waters`), eye, share,
// world.
class ZoneLikelihood {
 public:
  ZoneLikelihood(const LaidPiece& piece, std::size_t zone, const std::vector<Look>& looks,
                 const ShopLevels& levels)
      : values_(resistances.count * waters.count * eyes * shares * worlds()) {
    std::vector<double> seen(waters.count);
    for (std::size_t r = 0; r < resistances.count; ++r) {
      for (std::size_t w = 0; w < worlds(); ++w) {
        const auto left = waters_left(piece, zone, looks, resistances[r], shop_worlds()[w]);
        for (std::size_t e = 0; e < eyes; ++e) {
          see(looks, left, levels.eye * three_deviates[e].at, seen);
          for (std::size_t s = 0; s < shares; ++s) {
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
    return (((r * waters.count + water) * eyes + e) * shares + s) * worlds() + w;
  }
  // g/m2 left at each look, look by look, over `waters`.
  static std::vector<double> waters_left(const LaidPiece& piece, std::size_t zone,
                                         const std::vector<Look>& looks, double resistance,
                                         const ShopWorld& world) {
    const CourseTrace& trace = piece.trace(zone);
    const double usual = piece.zones()[zone].usual.value();
    std::vector<double> left;
    Margin margin = piece.margin(zone);
    margin.width /= world.margin_speed;
    for (const Look& look : looks) {
      const CourseTrace::Place then = trace.where_seconds(look.seconds);
      Lanes drunk_by{};
      for (std::size_t m = 0; m < members; ++m) {
        drunk_by[m] = trace.drunk(then, m);
      }
      const double drunk = between_lanes(drunk_by, lane_log_factors(), resistance);
      const double share = margin.left(trace.front_squared(then));
      for (std::size_t i = 0; i < waters.count; ++i) {
        const double water = usual * std::exp(waters[i]);
        left.push_back(share * water *
                       world.water.spread->left_share(std::log(water / world.water.break_up),
                                                      drunk / world.water.break_up));
      }
    }
    return left;
  }
  // The looks together, over `waters`: they share a reading of this zone.
  static void see(const std::vector<Look>& looks, const std::vector<double>& left, double eye,
                  std::vector<double>& seen) {
    const bool alone = looks.size() == 1;
    const double own = alone ? 1.0 : std::sqrt(1.0 - same_reading);
    std::fill(seen.begin(), seen.end(), 0.0);
    for (const Deviate& reading : three_deviates) {
      if (alone && reading.at != 0.0) continue;
      const double off = eye + reading.at * blur_sd * std::sqrt(same_reading);
      for (std::size_t i = 0; i < waters.count; ++i) {
        double all = alone ? 1.0 : reading.weight;
        for (std::size_t k = 0; k < looks.size(); ++k) {
          all *= sight(looks[k].finding, left[k * waters.count + i] * std::exp(-off), own);
        }
        seen[i] += all;
      }
    }
  }
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

PieceLikelihood::PieceLikelihood(const LaidPiece& laid, const std::vector<Look>& looks,
                                 const ShopLevels& levels)
    : nodes_(film_lattice.count * shared_nodes(), 0.0) {
  std::vector<ZoneLikelihood> seen;
  for (std::size_t z = 0; z < laid.zones().size(); ++z) {
    const auto here = of_zone(looks, z);
    if (!here.empty()) seen.emplace_back(laid, z, here, levels);
  }
  std::array<double, shares> film_piece{};
  for (std::size_t s = 0; s < shares; ++s) {
    film_piece[s] = shared(levels, sharings[s]).film_piece();
  }
  std::size_t node = 0;
  for (std::size_t f = 0; f < film_lattice.count; ++f) {
    for (std::size_t h = 0; h < hand_lattice.count; ++h) {
      for (std::size_t e = 0; e < eyes; ++e) {
        for (std::size_t s = 0; s < shares; ++s) {
          for (std::size_t w = 0; w < worlds(); ++w, ++node) {
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

ShopLevels ShopBelief::levels(const std::string& film) const {
  ShopLevels levels = levels_;
  const auto known = spreads_.find(film);
  if (known != spreads_.end()) levels.film = known->second;
  return levels;
}

void ShopBelief::weigh_worlds(std::span<const double> likelihoods) {
  if (likelihoods.size() != worlds()) return;
  std::vector<double> all(likelihoods.begin(), likelihoods.end());
  if (!worlds_.empty()) {
    std::ranges::transform(all, worlds_, all.begin(), std::multiplies<>{});
  }
  const double most = *std::ranges::max_element(all);
  if (!(most > 0.0)) return;
  for (double& one : all) {
    one /= most;
  }
  worlds_ = std::move(all);
}

void ShopBelief::learn(const std::string& film, const std::vector<double>& likelihood) {
  const auto known = films_.find(film);
  std::vector<double> all = likelihood;
  if (known != films_.end()) {
    std::ranges::transform(all, known->second, all.begin(), std::multiplies<>{});
  }
  const double most =
      std::accumulate(all.begin(), all.end(), 0.0, [](double a, double b) { return std::max(a, b); });
  if (!(most > 0.0)) return;
  for (double& one : all) {
    one /= most;
  }
  films_[film] = std::move(all);
}

namespace {

// Weights of evenly spaced deviations of a level, before anything was seen. They sum to 1.
std::vector<double> prior_weights(const Deviations& lattice, double sd) {
  std::vector<double> weights;
  for (std::size_t i = 0; i < lattice.count; ++i) {
    weights.push_back(shop_density(lattice[i], sd));
  }
  const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
  for (double& one : weights) {
    one /= sum;
  }
  return weights;
}

// Of the film's lattice, for each of the sharings.
std::array<std::vector<double>, shares> film_weights(const ShopLevels& levels) {
  std::array<std::vector<double>, shares> weights;
  for (std::size_t s = 0; s < shares; ++s) {
    weights[s] = prior_weights(film_lattice, shared(levels, sharings[s]).film_common());
  }
  return weights;
}

std::size_t sharing_of(std::size_t shared_node) {
  return shared_node / worlds() % shares;
}

}  // namespace

// The prior of what is shared, times what all films but this one say of it.
std::vector<double> ShopBelief::shared_weights(const std::string& without) const {
  std::vector<double> weights;
  weights.reserve(shared_nodes());
  std::array<std::vector<double>, shares> hands;
  for (std::size_t s = 0; s < shares; ++s) {
    hands[s] = prior_weights(hand_lattice, shared(levels_, sharings[s]).hand());
  }
  for (std::size_t h = 0; h < hand_lattice.count; ++h) {
    for (std::size_t e = 0; e < eyes; ++e) {
      for (std::size_t s = 0; s < shares; ++s) {
        for (std::size_t w = 0; w < worlds(); ++w) {
          weights.push_back(hands[s][h] * three_deviates[e].weight * sharings[s].weight *
                            shop_worlds()[w].weight * (worlds_.empty() ? 1.0 : worlds_[w]));
        }
      }
    }
  }
  for (const auto& [key, seen] : films_) {
    if (key == without) continue;
    const auto film = film_weights(levels(key));
    for (std::size_t i = 0; i < weights.size(); ++i) {
      double sum = 0.0;
      for (std::size_t f = 0; f < film_lattice.count; ++f) {
        sum += film[sharing_of(i)][f] * seen[f * weights.size() + i];
      }
      weights[i] *= sum;
    }
  }
  return weights;
}

namespace {

// What is left of a world when the eye and the shares are summed over.
struct Cell {
  double weight = 0.0;
  double film = 0.0, hand = 0.0, film_piece2 = 0.0, zone2 = 0.0;  // times the weight
  [[nodiscard]] double slowness() const { return (film + hand) / weight; }
  void add(const Cell& other, double share) {
    weight += share * other.weight;
    film += share * other.film;
    hand += share * other.hand;
    film_piece2 += share * other.film_piece2;
    zone2 += share * other.zone2;
  }
};

// Strata of one world by what film and hands come to together, closer towards the ends: each a node at its
// mean. Unlike nodes placed by moments they hold what the tails weigh.
std::vector<Cell> strata(std::vector<Cell> cells) {
  constexpr std::array<double, 13> edges{0.01, 0.04, 0.10, 0.19, 0.31, 0.44, 0.56,
                                         0.69, 0.81, 0.90, 0.96, 0.99, 1.0};
  std::erase_if(cells, [](const Cell& cell) { return cell.weight <= 0.0; });
  std::ranges::sort(cells, {}, &Cell::slowness);
  const double all = std::accumulate(cells.begin(), cells.end(), 0.0,
                                     [](double sum, const Cell& cell) { return sum + cell.weight; });
  std::vector<Cell> out(edges.size());
  std::size_t stratum = 0;
  double so_far = 0.0;
  for (const Cell& cell : cells) {
    double left = cell.weight;
    while (left > 0.0) {
      const bool last = stratum + 1 == edges.size();
      const double room = last ? left : edges[stratum] * all - so_far;
      const double taken = std::min(left, std::max(0.0, room));
      out[stratum].add(cell, taken / cell.weight);
      so_far += taken;
      left -= taken;
      if (left > 0.0) ++stratum;
    }
  }
  return out;
}

}  // namespace

std::vector<ShopNode> ShopBelief::nodes(const std::string& film) const {
  const auto shared_weight = shared_weights(film);
  const ShopLevels levels_here = levels(film);
  const auto film_prior = film_weights(levels_here);
  const auto seen = films_.find(film);
  const std::size_t hands = hand_lattice.count;
  std::vector<std::vector<Cell>> cells(worlds(), std::vector<Cell>(film_lattice.count * hands));
  double all = 0.0;
  for (std::size_t f = 0; f < film_lattice.count; ++f) {
    for (std::size_t i = 0; i < shared_weight.size(); ++i) {
      const std::size_t sharing = sharing_of(i);
      const double weight = film_prior[sharing][f] * shared_weight[i] *
                            (seen == films_.end() ? 1.0 : seen->second[f * shared_weight.size() + i]);
      const std::size_t hand = i / (eyes * shares * worlds());
      const ShopLevels here = shared(levels_here, sharings[sharing]);
      const Cell cell{1.0, film_lattice[f], hand_lattice[hand], here.film_piece() * here.film_piece(),
                      here.zone() * here.zone()};
      cells[i % worlds()][f * hands + hand].add(cell, weight);
      all += weight;
    }
  }
  std::vector<ShopNode> nodes;
  for (std::size_t w = 0; w < cells.size(); ++w) {
    for (const Cell& cell : strata(std::move(cells[w]))) {
      if (cell.weight > 0.0) {
        nodes.push_back({cell.weight / all, cell.film / cell.weight, cell.hand / cell.weight, w,
                         std::sqrt(cell.film_piece2 / cell.weight), std::sqrt(cell.zone2 / cell.weight)});
      } else {
        nodes.push_back({0.0, 0.0, 0.0, w, levels_here.film_piece(), levels_here.zone()});
      }
    }
  }
  return nodes;
}

}  // namespace dryclock::models
