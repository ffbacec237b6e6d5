#include "models/bond_coupon.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <random>
#include <vector>

#include "drying_cases.hpp"
#include "models/shop_levels.hpp"

using namespace dryclock::models;
using namespace drying_cases;

namespace {

constexpr auto wlf = BondLaw::williams_landel_ferry, arrhenius = BondLaw::arrhenius;
// Ten minutes, and then as the trade waits.
const std::vector<double> usual_hours{1.0 / 6.0, 1.0, 4.0, 24.0, 72.0};

// Strips of a film of 20 N per 25 mm, `each` at a time, in steady air.
std::vector<PulledStrip> pulled(double celsius, BondLaw law, double slowness, int each = 3,
                                const std::vector<double>& hours = usual_hours) {
  std::vector<PulledStrip> out;
  for (const double at : hours) {
    PulledStrip strip;
    for (const BondLaw one : {wlf, arrhenius}) {
      strip.clock[static_cast<std::size_t>(one)] = at * hour * bond_rate(Celsius{celsius}, one);
    }
    // 50 % after 20 min, 21.54 % more a decade: bond.hpp.
    const double bond =
        0.5 + 0.2154 * std::log10(strip.clock[static_cast<std::size_t>(law)] / slowness / 1200.0);
    strip.peel = 20.0 * std::clamp(bond, 0.0, 1.0);
    out.insert(out.end(), static_cast<std::size_t>(each), strip);
  }
  return out;
}

const ShopWorld& likeliest(const std::vector<double>& likelihoods) {
  const auto most = std::ranges::max_element(likelihoods);
  return shop_worlds()[static_cast<std::size_t>(most - likelihoods.begin())];
}

}  // namespace

TEST_SUITE_BEGIN("coupon");

TEST_CASE("strips show how slowly the bond grows, and by which law where it is not 20 C") {
  const double slow = std::exp(0.3 * std::sqrt(3.0));  // as far as a shop is weighed with
  const auto at_20_slow = bond_likelihoods(pulled(20.0, arrhenius, slow));
  REQUIRE(at_20_slow.size() == shop_worlds().size());
  CHECK(likeliest(at_20_slow).water.bond_slowness == about(slow, 1e-12));
  CHECK(bond_goes(at_20_slow).ln_slowness > 0.02);
  const auto at_20_fast = bond_likelihoods(pulled(20.0, wlf, 1.0 / slow));
  CHECK(likeliest(at_20_fast).water.bond_slowness == about(1.0 / slow, 1e-12));
  CHECK(bond_goes(at_20_fast).ln_slowness < -0.02);

  for (const BondLaw law : {wlf, arrhenius}) {
    const auto cold = bond_likelihoods(pulled(10.0, law, 1.0));
    CHECK(likeliest(cold).water.law == law);
    CHECK(likeliest(cold).water.bond_slowness == 1.0);
    CHECK((bond_goes(cold).first_law > 0.55) == (law == wlf));
  }
}

TEST_CASE("more strips say more, and none of them everything") {
  const double slow = std::exp(0.3 * std::sqrt(3.0));
  double before = bond_goes({}).slowness_sd;
  CHECK(before == about(0.3, 1e-9));
  CHECK(bond_goes({}).first_law == about(0.5, 1e-9));
  double mean = 0.0;
  for (const int each : {1, 3, 20}) {
    const auto likelihoods = bond_likelihoods(pulled(20.0, arrhenius, slow, each));
    CHECK(bond_goes(likelihoods).ln_slowness > mean);
    mean = bond_goes(likelihoods).ln_slowness;
    // A tenth is left to what it speaks against.
    CHECK(*std::ranges::min_element(likelihoods) >= 0.1);
    CHECK(*std::ranges::max_element(likelihoods) == 1.0);
  }
}

// 15 % a strip, by a sum of its own: two worlds' strips against those that were pulled, the final strength
// the mean of all of them.
TEST_CASE("a strip is good for 15 %") {
  auto strips = pulled(20.0, wlf, 1.0, 1);
  strips[1].peel *= 1.3;
  const auto likelihoods = bond_likelihoods(strips);
  const double fast = std::exp(-0.3 * std::sqrt(3.0));
  const auto sum = [&](double slowness) {
    std::vector<double> off;
    double mean = 0.0;
    for (const auto& strip : strips) {
      const double bond = std::min(1.0, 0.5 + 0.2154 * std::log10(strip.clock[0] / slowness / 1200.0));
      off.push_back(std::log(strip.peel / bond));
      mean += off.back() / static_cast<double>(strips.size());
    }
    double squares = 0.0;
    for (const double one : off) {
      squares += (one - mean) * (one - mean) / (0.15 * 0.15);
    }
    return squares;
  };
  std::size_t usual = shop_worlds().size(), other = usual;
  for (std::size_t w = 0; w < shop_worlds().size(); ++w) {
    if (shop_worlds()[w].water.law != wlf) continue;
    (shop_worlds()[w].water.bond_slowness == 1.0 ? usual : other) = w;
  }
  REQUIRE(shop_worlds()[other].water.bond_slowness == about(fast, 1e-12));
  const auto without_tenth = [&](std::size_t w) { return (likelihoods[w] - 0.1) / 0.9; };
  CHECK(std::log(without_tenth(other) / without_tenth(usual)) ==
        doctest::Approx(-0.5 * (sum(fast) - sum(1.0))).epsilon(1e-6));
}

TEST_CASE("the film's final strength does not count") {
  auto weak = pulled(12.0, arrhenius, 1.0);
  const auto strong = bond_likelihoods(weak);
  for (auto& strip : weak) {
    strip.peel *= 0.1;
  }
  const auto likelihoods = bond_likelihoods(weak);
  for (std::size_t w = 0; w < strong.size(); ++w) {
    CHECK(likelihoods[w] == about(strong[w], 1e-9));
  }
}

TEST_CASE("two strips say nothing; one that never held says something") {
  CHECK(bond_likelihoods({}).empty());
  CHECK(bond_likelihoods(pulled(20.0, wlf, 1.0, 1, {1.0, 72.0})).empty());
  CHECK(bond_likelihoods(pulled(20.0, wlf, 1.0, 1, {1.0, 4.0, 72.0})).size() == shop_worlds().size());
  auto strips = pulled(20.0, wlf, 1.0, 1);
  strips[0].clock = {0.0, 0.0};
  strips[0].peel = 0.01;
  for (const double one : bond_likelihoods(strips)) {
    CHECK(std::isfinite(one));
  }
}

TEST_SUITE_END();
