#include "models/shop_belief.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <utility>

namespace dryclock::models {

ShopLevels ShopBelief::levels(const std::string& film) const {
  ShopLevels levels = levels_;
  const auto known = spreads_.find(film);
  if (known != spreads_.end()) levels.film = known->second;
  return levels;
}

void ShopBelief::weigh_worlds(std::span<const double> likelihoods) {
  if (likelihoods.size() != world_nodes()) return;
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
std::array<std::vector<double>, sharing_nodes> film_weights(const ShopLevels& levels) {
  std::array<std::vector<double>, sharing_nodes> weights;
  for (std::size_t s = 0; s < sharing_nodes; ++s) {
    weights[s] = prior_weights(film_lattice, shared(levels, sharings[s]).film_common());
  }
  return weights;
}

std::size_t sharing_of(std::size_t shared_node) {
  return shared_node / world_nodes() % sharing_nodes;
}

}  // namespace

// The prior of what is shared, times what all films, or all but this one, say of it.
std::vector<double> ShopBelief::shared_weights(const std::string* without) const {
  std::vector<double> weights;
  weights.reserve(shared_nodes());
  std::array<std::vector<double>, sharing_nodes> hands;
  for (std::size_t s = 0; s < sharing_nodes; ++s) {
    hands[s] = prior_weights(hand_lattice, shared(levels_, sharings[s]).hand());
  }
  for (std::size_t h = 0; h < hand_lattice.count; ++h) {
    for (std::size_t e = 0; e < eye_nodes; ++e) {
      for (std::size_t s = 0; s < sharing_nodes; ++s) {
        for (std::size_t w = 0; w < world_nodes(); ++w) {
          weights.push_back(hands[s][h] * three_deviates[e].weight * sharings[s].weight *
                            shop_worlds()[w].weight * (worlds_.empty() ? 1.0 : worlds_[w]));
        }
      }
    }
  }
  for (const auto& [key, seen] : films_) {
    if (without != nullptr && key == *without) continue;
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
  const auto shared_weight = shared_weights(&film);
  const ShopLevels levels_here = levels(film);
  const auto film_prior = film_weights(levels_here);
  const auto seen = films_.find(film);
  const std::size_t hands = hand_lattice.count;
  std::vector<std::vector<Cell>> cells(world_nodes(), std::vector<Cell>(film_lattice.count * hands));
  double all = 0.0;
  for (std::size_t f = 0; f < film_lattice.count; ++f) {
    for (std::size_t i = 0; i < shared_weight.size(); ++i) {
      const std::size_t sharing = sharing_of(i);
      const double weight = film_prior[sharing][f] * shared_weight[i] *
                            (seen == films_.end() ? 1.0 : seen->second[f * shared_weight.size() + i]);
      const std::size_t hand = i / (eye_nodes * sharing_nodes * world_nodes());
      const ShopLevels here = shared(levels_here, sharings[sharing]);
      const Cell cell{1.0, film_lattice[f], hand_lattice[hand], here.film_piece() * here.film_piece(),
                      here.zone() * here.zone()};
      cells[i % world_nodes()][f * hands + hand].add(cell, weight);
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

ShopCommon ShopBelief::common() const {
  const auto weights = shared_weights(nullptr);
  const double all = std::accumulate(weights.begin(), weights.end(), 0.0);
  ShopCommon out;
  for (std::size_t h = 0; h < hand_lattice.count; ++h) {
    out.hand.push_back({hand_lattice[h], 0.0});
  }
  for (const Deviate& eye : three_deviates) {
    out.eye.push_back({levels_.eye * eye.at, 0.0});
  }
  out.sharing.assign(sharing_nodes, 0.0);
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const double weight = weights[i] / all;
    const std::size_t eye_and_hand = i / (world_nodes() * sharing_nodes);
    out.sharing[sharing_of(i)] += weight;
    out.eye[eye_and_hand % eye_nodes].weight += weight;
    out.hand[eye_and_hand / eye_nodes].weight += weight;
  }
  return out;
}

}  // namespace dryclock::models
