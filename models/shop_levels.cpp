#include "models/shop_levels.hpp"

#include <cmath>

namespace dryclock::models {
namespace {

constexpr double usual_spread = 0.4, spread_sd = 0.4;
constexpr double usual_break_up = 0.5, break_up_sd = 0.7;  // g/m2
constexpr double margin_sd = 0.39;
constexpr double bond_sd = 0.3;

struct StroudPoint {
  double break_up, margin, bond;
  BondLaw law;
};

// Stroud's points of three dimensions: along each axis, either way. Each law stands at one end of each axis
// but the bond's, where it would be mistaken for it.
std::vector<StroudPoint> points() {
  constexpr double far = 1.7320508075688772;
  constexpr auto first = BondLaw::williams_landel_ferry, second = BondLaw::arrhenius;
  return {{-far, 0.0, 0.0, first}, {far, 0.0, 0.0, second}, {0.0, -far, 0.0, second},
          {0.0, far, 0.0, first},  {0.0, 0.0, -far, first}, {0.0, 0.0, far, second}};
}

std::vector<ShopWorld> make_worlds() {
  static const std::array<WaterSpread, three_deviates.size()> spreads{
      WaterSpread(usual_spread * std::exp(spread_sd * three_deviates[0].at)),
      WaterSpread(usual_spread * std::exp(spread_sd * three_deviates[1].at)),
      WaterSpread(usual_spread * std::exp(spread_sd * three_deviates[2].at))};
  std::vector<ShopWorld> worlds;
  const auto star = points();
  for (std::size_t s = 0; s < spreads.size(); ++s) {
    for (const StroudPoint& point : star) {
      ShopWorld world;
      world.weight = three_deviates[s].weight / static_cast<double>(star.size());
      world.water = {&spreads[s], usual_break_up * std::exp(break_up_sd * point.break_up), point.law,
                     std::exp(bond_sd * point.bond)};
      world.margin_speed = std::exp(margin_sd * point.margin);
      worlds.push_back(world);
    }
  }
  return worlds;
}

}  // namespace

const std::vector<ShopWorld>& shop_worlds() {
  static const std::vector<ShopWorld> worlds = make_worlds();
  return worlds;
}

ShopLevels shared(ShopLevels levels, const Sharing& sharing) {
  levels.film_share = sharing.film;
  levels.hand_share = sharing.hand;
  return levels;
}

double shop_density(double deviation, double sd) {
  const auto normal = [&](double width) {
    const double z = deviation / (width * sd);
    return std::exp(-0.5 * z * z) / width;
  };
  return (1.0 - odd_shops) * normal(usual_width) + odd_shops * normal(odd_width);
}

}  // namespace dryclock::models
