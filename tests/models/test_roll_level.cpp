// Why there is no level for the roll between a film and its pieces (models/README.md): in the linear form of
// the levels, with a look at each of some pieces, what a roll's own part would be worth to the piece after
// them.
#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <vector>

#include "models/shop_levels.hpp"

namespace {

using namespace dryclock::models;

constexpr double blur = 0.74;  // of one look, ln of water: the logistic of inspection.cpp
constexpr std::size_t rolls = 4;

// ln of resistance times water of a shop's pieces, and of looks at them; so much of the film's variance is a
// roll's.
struct Shop {
  double roll = 0.0;
  ShopLevels levels{};
  [[nodiscard]] double film2() const { return levels.film * levels.film; }
  [[nodiscard]] double shared(bool same_roll) const {
    return (levels.film_share - roll) * film2() + (same_roll ? roll * film2() : 0.0) +
           levels.hand() * levels.hand();
  }
  [[nodiscard]] double looks(bool same_piece, bool same_roll) const {
    const double own = levels.film_piece() * levels.film_piece() + levels.piece() * levels.piece() +
                       levels.zone() * levels.zone() + blur * blur;
    return shared(same_roll) + levels.eye * levels.eye + (same_piece ? own : 0.0);
  }
  [[nodiscard]] double alone() const { return film2() + levels.water * levels.water; }
};

// M x = b by elimination, without pivots: M is a covariance.
std::vector<double> solve(std::vector<std::vector<double>> m, std::vector<double> b) {
  const std::size_t n = b.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 1; k < n; ++k) {
      const double f = m[k][i] / m[i][i];
      for (std::size_t j = i; j < n; ++j) m[k][j] -= f * m[i][j];
      b[k] -= f * b[i];
    }
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t j = i + 1; j < n; ++j) b[i] -= m[i][j] * b[j];
    b[i] /= m[i][i];
  }
  return b;
}

struct Forecast {
  double error = 0.0, said = 0.0;  // standard deviations of ln
};

// Of a piece on that roll, after looks at pieces of `rolls` rolls in turn, by somebody who takes `truth` for
// `thought`.
Forecast forecast(const Shop& truth, const Shop& thought, std::size_t pieces, std::size_t roll) {
  std::vector<std::vector<double>> looks(pieces, std::vector<double>(pieces));
  std::vector<double> next;
  for (std::size_t i = 0; i < pieces; ++i) {
    for (std::size_t j = 0; j < pieces; ++j) looks[i][j] = thought.looks(i == j, i % rolls == j % rolls);
    next.push_back(thought.shared(i % rolls == roll));
  }
  const auto weight = solve(looks, next);
  double said2 = thought.alone(), error2 = truth.alone();
  for (std::size_t i = 0; i < pieces; ++i) {
    said2 -= weight[i] * next[i];
    error2 -= 2.0 * weight[i] * truth.shared(i % rolls == roll);
    for (std::size_t j = 0; j < pieces; ++j) {
      error2 += weight[i] * weight[j] * truth.looks(i == j, i % rolls == j % rolls);
    }
  }
  return {std::sqrt(error2), std::sqrt(said2)};
}

}  // namespace

TEST_CASE("a level for the roll would not pay") {
  const Shop without;
  // A third of the film's variance: rolls that differ by 19 %.
  const Shop with{.roll = 0.30};
  CHECK(with.levels.film * std::sqrt(with.roll) == doctest::Approx(0.19).epsilon(0.02));
  constexpr std::size_t new_roll = rolls;
  for (const std::size_t pieces : {std::size_t{8}, std::size_t{20}, std::size_t{40}}) {
    CAPTURE(pieces);
    const auto same = forecast(with, without, pieces, 0), best_same = forecast(with, with, pieces, 0);
    const auto next = forecast(with, without, pieces, new_roll),
               best_next = forecast(with, with, pieces, new_roll);
    CHECK(same.error < 1.03 * best_same.error);
    CHECK(next.error < 1.01 * best_next.error);
    // What is said is too narrow by as much at the most; shops whose pieces share little are weighed anyway.
    CHECK(next.said > 0.90 * next.error);
    CHECK(best_next.said == doctest::Approx(best_next.error).epsilon(1e-9));
  }
}
