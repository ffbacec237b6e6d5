#include "models/bond_coupon.hpp"

#include <algorithm>
#include <cmath>

#include "models/shop_levels.hpp"

namespace dryclock::models {
namespace {

constexpr double least_bond = 0.02;  // a strip that hardly holds; keeps the logarithm finite

double squares(std::span<const PulledStrip> strips, const WaterWorld& world) {
  double sum = 0.0, sum2 = 0.0;
  for (const PulledStrip& strip : strips) {
    const double clock = strip.clock[static_cast<std::size_t>(world.law)];
    const double off =
        std::log(strip.peel / std::max(least_bond, bond_fraction(clock / world.bond_slowness)));
    sum += off;
    sum2 += off * off;
  }
  // The final strength is whatever fits best.
  return (sum2 - sum * sum / static_cast<double>(strips.size())) / (peel_error * peel_error);
}

}  // namespace

std::vector<double> bond_likelihoods(std::span<const PulledStrip> strips) {
  std::vector<double> out;
  if (strips.size() < least_strips) return out;
  for (const ShopWorld& world : shop_worlds()) {
    out.push_back(squares(strips, world.water));
  }
  const double least = *std::ranges::min_element(out);
  for (double& one : out) {
    one = unlike_coupons + (1.0 - unlike_coupons) * std::exp(-0.5 * (one - least));
  }
  return out;
}

BondGoes bond_goes(std::span<const double> likelihoods) {
  BondGoes out{0.0, 0.0, 0.0};
  double all = 0.0, squared = 0.0;
  for (std::size_t w = 0; w < shop_worlds().size(); ++w) {
    const ShopWorld& world = shop_worlds()[w];
    const double weight = world.weight * (likelihoods.empty() ? 1.0 : likelihoods[w]);
    const double slowness = std::log(world.water.bond_slowness);
    all += weight;
    out.ln_slowness += weight * slowness;
    squared += weight * slowness * slowness;
    out.first_law += world.water.law == BondLaw::williams_landel_ferry ? weight : 0.0;
  }
  out.ln_slowness /= all;
  out.first_law /= all;
  out.slowness_sd = std::sqrt(std::max(0.0, squared / all - out.ln_slowness * out.ln_slowness));
  return out;
}

}  // namespace dryclock::models
