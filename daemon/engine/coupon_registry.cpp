#include "engine/coupon_registry.hpp"

#include <algorithm>
#include <cmath>

#include "engine/coupon_air.hpp"
#include "engine/film_measures.hpp"
#include "engine/piece_spec.hpp"
#include "models/coupon.hpp"
#include "models/coupon_tail.hpp"

namespace dryclock::engine {
namespace {

models::Seconds since(Time laid, Time at) {
  return models::Seconds{seconds_between(laid, at)};
}

double seconds_of(Millis span) {
  return std::chrono::duration<double>(span).count();
}

// Where the film is a catalogue's, its outermost sheets tell how it answers to warmth.
double activation_energy(const CouponLaid& coupon, const Catalogue& catalogue) {
  const auto* film = find_film(catalogue, coupon.film);
  return film == nullptr || film->stack.layers.empty() ? models::Layer{}.activation_energy
                                                       : film->stack.layers.back().activation_energy;
}

// What the weighings of the end add, where there are some: how the water lay, and what the film then resists.
void add_tail(FilmMeasured& measured, const models::CouponTail& tail) {
  if (tail.points.empty()) {
    return;
  }
  for (const auto& point : tail.points) {
    measured.tail.push_back({point.spread, point.break_up, std::round(point.likelihood * 1e4) / 1e4});
  }
  measured.resistance *= std::exp(tail.ln_resistance);
  measured.relative_uncertainty = std::hypot(measured.relative_uncertainty, tail.resistance_sd);
}

// What the end adds to that: by what factor thickness differs, and below what it breaks up, within a standard
// deviation.
Fact with_end(Fact outcome, const FilmMeasured& measured) {
  const auto lies = models::water_lies(tail_of(measured));
  const auto factor = [&](const char* name, double deviates) {
    return say::figure(name, Measure::figure, std::exp(std::exp(lies.ln_spread + deviates * lies.spread_sd)));
  };
  const auto break_up = [&](const char* name, double deviates) {
    return say::figure(name, Measure::water, std::exp(lies.ln_break_up + deviates * lies.break_up_sd));
  };
  return {"coupons.with-end",
          {say::fact("result", std::move(outcome)), factor("factor", 0.0), factor("factor_low", -1.0),
           factor("factor_high", 1.0), break_up("layer", 0.0), break_up("layer_low", -1.0),
           break_up("layer_high", 1.0)}};
}

void evaluate(CouponView& view, const Bays& bays, const Catalogue& catalogue) {
  const BayAir* air = bays.find(view.coupon.bay);
  models::CouponTest test;
  test.area_m2 = view.coupon.area_m2;
  test.water_grams = view.coupon.water_grams;
  test.activation_energy = activation_energy(view.coupon, catalogue);
  for (const auto& weighing : view.weighings) {
    test.weighings.push_back({since(view.laid, weighing.at), weighing.grams});
  }
  // Across a hole the loss could only be guessed: nothing before it counts.
  if (const auto* newest = newest_stretch(air)) {
    for (const auto& point : *newest) {
      test.air.push_back(
          {since(view.laid, point.at), models::Celsius{point.air_c}, models::Humidity{point.rh_pct / 100.0}});
    }
  }
  // The minute of a weighing that was entered just now is known when the next reading comes.
  if (!test.air.empty() && !view.weighings.empty()) {
    const auto last = test.weighings.back().at;
    const double ahead = (last - test.air.back().at).value();
    if (ahead > 0.0 && ahead <= seconds_of(bays.bridge_after())) {
      test.air.push_back({last, test.air.back().temperature, test.air.back().humidity});
    }
  }
  const auto result = models::evaluate(test);
  switch (result.problem) {
    case models::CouponProblem::too_few_weighings:
      view.what = {"coupons.few", {say::count("weighings", result.weighings_used)}};
      return;
    case models::CouponProblem::air_missing:
      view.what = missing_air(view.coupon.bay, air, view.weighings.front().at);
      return;
    case models::CouponProblem::no_loss:
      view.what = {"coupons.no-loss"};
      return;
    case models::CouponProblem::none:
      break;
  }
  const auto* film = find_film(catalogue, view.coupon.film);
  FilmMeasured measured;
  measured.film = view.coupon.film;
  measured.lot = view.coupon.lot;
  measured.resistance = result.resistance.value();
  measured.relative_uncertainty = result.relative_uncertainty;
  measured.coupon = view.id;
  measured.weighings = static_cast<int>(result.weighings_used);
  if (film != nullptr) {
    add_tail(measured, models::evaluate_tail(test, film->stack, result));
  }
  measured.resistance = std::round(measured.resistance / 1e6) * 1e6;
  measured.relative_uncertainty = std::round(measured.relative_uncertainty * 1000.0) / 1000.0;
  const bool plausible = measured.resistance >= 1e7 && measured.resistance <= 1e12 &&
                         measured.relative_uncertainty >= 0.01 && measured.relative_uncertainty <= 1.0;
  const Fact outcome{"coupons.result",
                     {say::count("weighings", measured.weighings),
                      say::figure("resistance", Measure::resistance, measured.resistance),
                      say::share("uncertainty", measured.relative_uncertainty)}};
  if (!plausible) {
    view.what = {"coupons.implausible", {say::fact("result", outcome)}};
    return;
  }
  view.what = outcome;
  if (film != nullptr) {
    const double catalogue_says = resistance_of(film->stack);
    view.what = {"coupons.against-catalogue",
                 {say::fact("result", outcome), say::figure("catalogue", Measure::resistance, catalogue_says),
                  say::share("pace", catalogue_says / measured.resistance)}};
  }
  if (!measured.tail.empty()) {
    view.what = with_end(std::move(view.what), measured);
  }
  view.result = std::move(measured);
}

}  // namespace

void CouponRegistry::rebuild(const std::vector<Event>& standing) {
  coupons_.clear();
  for (const auto& event : standing) {
    if (const auto* laid = std::get_if<CouponLaid>(&event.detail)) {
      auto& coupon = coupons_[event.seq];
      coupon.id = event.seq;
      coupon.laid = event.at;
      coupon.coupon = *laid;
    } else if (const auto* weighed = std::get_if<CouponWeighed>(&event.detail)) {
      if (const auto found = coupons_.find(weighed->coupon); found != coupons_.end()) {
        found->second.weighings.push_back({event.seq, event.at, weighed->grams});
      }
    } else if (const auto* measured = std::get_if<FilmMeasured>(&event.detail)) {
      if (const auto found = coupons_.find(measured->coupon.value_or(0)); found != coupons_.end()) {
        found->second.measured = *measured;
      }
    }
  }
  for (auto& [id, coupon] : coupons_) {
    std::ranges::stable_sort(coupon.weighings, {}, &CouponWeighing::at);
  }
}

std::optional<Time> CouponRegistry::oldest_needed(Time now) const {
  std::optional<Time> oldest;
  for (const auto& [id, coupon] : coupons_) {
    if (!coupon.measured && coupon.laid > now - longest_coupon && (!oldest || coupon.laid < *oldest)) {
      oldest = coupon.laid;
    }
  }
  return oldest;
}

std::vector<CouponView> CouponRegistry::coupons(const Bays& bays, const Catalogue& catalogue) const {
  std::vector<CouponView> out;
  for (const auto& [id, coupon] : coupons_) {
    out.push_back(coupon);
    if (!coupon.measured) {
      evaluate(out.back(), bays, catalogue);
    }
  }
  return out;
}

}  // namespace dryclock::engine
