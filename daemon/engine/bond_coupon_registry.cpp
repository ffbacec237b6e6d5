#include "engine/bond_coupon_registry.hpp"

#include <algorithm>
#include <cmath>

#include "engine/coupon_air.hpp"
#include "engine/film_measures.hpp"
#include "models/bond_coupon.hpp"

namespace dryclock::engine {
namespace {

using models::BondClocks;

// Air that begins so much later than the strips is taken to have been the same before.
constexpr Millis late_air = std::chrono::minutes{10};

BondClocks rate_at(double air_c) {
  BondClocks rates{};
  for (std::size_t law = 0; law < models::bond_laws; ++law) {
    rates[law] = models::bond_rate(models::Celsius{air_c}, static_cast<models::BondLaw>(law));
  }
  return rates;
}

// The clocks of the bond on a plate that has the air's temperature; null: the air is not known.
std::optional<BondClocks> clocks(const BayAir::Stretch* air, Time laid, Time at, Millis bridge_after) {
  if (air == nullptr || air->front().at > laid + late_air || air->back().at + bridge_after < at) {
    return {};
  }
  BondClocks out{};
  const auto pass = [&](Time from, Time to, const BondClocks& rates) {
    const double seconds = seconds_between(std::max(from, laid), std::min(to, at));
    for (std::size_t law = 0; law < out.size() && seconds > 0.0; ++law) {
      out[law] += seconds * rates[law];
    }
  };
  pass(laid, air->front().at, rate_at(air->front().air_c));
  // One point a minute: the one at or before the lay.
  const auto minutes = std::max<std::ptrdiff_t>(0, (laid - air->front().at) / std::chrono::minutes{1});
  for (auto i = static_cast<std::size_t>(minutes); i + 1 < air->size() && (*air)[i].at < at; ++i) {
    pass((*air)[i].at, (*air)[i + 1].at, rate_at(0.5 * ((*air)[i].air_c + (*air)[i + 1].air_c)));
  }
  pass(air->back().at, at, rate_at(air->back().air_c));
  return out;
}

double rounded_hours(double seconds) {
  return std::round(seconds / 3600.0 * 1e4) / 1e4;
}

// By what factor its hours are the usual ones, within a standard deviation.
Fact outcome_of(const BondMeasured& measured) {
  const auto goes = models::bond_goes(models::bond_likelihoods(strips_of(measured)));
  const auto factor = [&](const char* name, double deviates) {
    return say::figure(name, Measure::figure, std::exp(goes.ln_slowness + deviates * goes.slowness_sd));
  };
  return {"coupons.bond-result",
          {say::count("strips", measured.strips.size()), factor("factor", 0.0), factor("low", -1.0),
           factor("high", 1.0), say::share("first_law", goes.first_law)}};
}

void evaluate(BondCouponView& view, const Bays& bays) {
  const auto& pulls = view.pulls;
  if (pulls.size() < models::least_strips ||
      seconds_between(view.laid, pulls.back().at) < models::final_after) {
    view.what = {"coupons.bond-few", {say::count("strips", pulls.size())}};
    return;
  }
  const BayAir* air = bays.find(view.coupon.bay);
  BondMeasured measured{view.coupon.film, view.coupon.lot, view.id, {}};
  for (const auto& pull : pulls) {
    const auto clock = clocks(newest_stretch(air), view.laid, pull.at, bays.bridge_after());
    if (!clock) {
      view.what = missing_air(view.coupon.bay, air, view.laid);
      return;
    }
    measured.strips.push_back({rounded_hours((*clock)[0]), rounded_hours((*clock)[1]), pull.peel});
  }
  view.what = outcome_of(measured);
  view.result = std::move(measured);
}

}  // namespace

void BondCouponRegistry::rebuild(const std::vector<Event>& standing) {
  coupons_.clear();
  for (const auto& event : standing) {
    if (const auto* laid = std::get_if<BondCouponLaid>(&event.detail)) {
      auto& coupon = coupons_[event.seq];
      coupon.id = event.seq;
      coupon.laid = event.at;
      coupon.coupon = *laid;
    } else if (const auto* pulled = std::get_if<BondCouponPulled>(&event.detail)) {
      if (const auto found = coupons_.find(pulled->coupon); found != coupons_.end()) {
        found->second.pulls.push_back({event.seq, event.at, pulled->peel});
      }
    } else if (const auto* measured = std::get_if<BondMeasured>(&event.detail)) {
      if (const auto found = coupons_.find(measured->coupon.value_or(0)); found != coupons_.end()) {
        found->second.measured = *measured;
      }
    }
  }
  for (auto& [id, coupon] : coupons_) {
    std::ranges::stable_sort(coupon.pulls, {}, &BondPull::at);
  }
}

std::optional<Time> BondCouponRegistry::oldest_needed(Time now) const {
  std::optional<Time> oldest;
  for (const auto& [id, coupon] : coupons_) {
    if (!coupon.measured && coupon.laid > now - longest_coupon && (!oldest || coupon.laid < *oldest)) {
      oldest = coupon.laid;
    }
  }
  return oldest;
}

std::vector<BondCouponView> BondCouponRegistry::coupons(const Bays& bays) const {
  std::vector<BondCouponView> out;
  for (const auto& [id, coupon] : coupons_) {
    out.push_back(coupon);
    if (coupon.measured) {
      out.back().what = outcome_of(*coupon.measured);
    } else {
      evaluate(out.back(), bays);
    }
  }
  return out;
}

}  // namespace dryclock::engine
