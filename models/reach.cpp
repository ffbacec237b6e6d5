#include "models/reach.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dryclock::models {
namespace {

// Gauss and Legendre's places between 0 and 1.
constexpr std::array<double, looks_back> gauss_at{
    0.019855071751231856, 0.10166676129318658, 0.2372337950418355, 0.4082826787521751,
    0.591717321247825,    0.7627662049581645,  0.8983332387068135, 0.9801449282487682};

}  // namespace

std::array<double, looks_back> excess_delays(const FilmModes& modes) {
  const auto left = [&](double film_time) {
    double sum = 0.0;
    for (std::size_t j = 0; j < dry_modes; ++j) {
      sum += modes.dry_inner[j] * modes.dry_content[j] * std::exp(-modes.dry_rate[j] * film_time);
    }
    return sum / modes.inner_content;
  };
  std::array<double, looks_back> delays{};
  for (std::size_t i = 0; i < looks_back; ++i) {
    const double wanted = 1.0 - gauss_at[i];
    double low = 0.0, high = 40.0 / modes.dry_rate[0];
    for (int round = 0; round < 60; ++round) {
      const double at = 0.5 * (low + high);
      (left(at) > wanted ? low : high) = at;
    }
    delays[i] = high;
  }
  return delays;
}

double Margin::left(double front_squared) const {
  if (width <= 0.0) return 1.0;
  const double pressed = std::min(front_squared, opened_at);
  const double reached = openness * pressed + opened * (front_squared - pressed);
  return std::max(0.0, 1.0 - std::sqrt(reached) / width);
}

LooksBack excess_looks(const CourseTrace& trace, std::size_t now, std::size_t lane,
                       const std::array<double, looks_back>& film_delays) {
  LooksBack looks;
  for (std::size_t i = 0; i < looks_back; ++i) {
    // A column that was dry at lay never had moisture of the liquid's.
    looks.places[i] = trace.where_film_time(lane, trace[now].film_time[lane] - film_delays[i], now);
  }
  return looks;
}

LooksBack bond_looks(const CourseTrace& trace, std::size_t now, const WaterWorld& world) {
  const double clock = trace[now].clock[static_cast<std::size_t>(world.law)];
  const double most = bond_fraction(clock / world.bond_slowness);  // of a column that was dry at lay
  LooksBack looks{{}, 1.0 - most};
  for (std::size_t i = 0; i < looks_back; ++i) {
    const double since = world.bond_slowness * bond_seconds(most * gauss_at[i]);
    looks.places[i] = trace.where_clock(world.law, clock - since, now);
  }
  return looks;
}

Moments moments(const CourseTrace& trace, const LooksBack& looks, std::size_t lane, const WaterWorld& world,
                const Margin& margin) {
  Moments all;
  for (std::size_t i = 0; i < looks_back; ++i) {
    all[i] = {(1.0 - looks.before_lay) * look_weights[i], trace.drunk(looks.places[i], lane) / world.break_up,
              margin.left(trace.front_squared(looks.places[i]))};
  }
  all.back() = {looks.before_lay, -1.0, 1.0};
  return all;
}

Moment moment_now(const CourseTrace& trace, std::size_t now, std::size_t lane, const WaterWorld& world,
                  const Margin& margin) {
  return {1.0, trace[now].drunk[lane] / world.break_up, margin.left(trace[now].front_squared)};
}

double most_water(std::span<const Moment> moments, const WaterWorld& world, double limit, double guess) {
  const double unit = std::log(world.break_up);
  return WetShares(moments).most_water(*world.spread, limit, guess - unit) + unit;
}

double most_water(const CourseTrace& trace, std::size_t now, std::size_t lane,
                  const std::array<double, looks_back>& film_delays, const WaterWorld& world,
                  const Margin& margin, const ZoneAsks& asks) {
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  double most = std::numeric_limits<double>::infinity();
  const auto also = [&](std::span<const Moment> seen, double limit) {
    most = std::min(most, most_water(seen, world, limit, unknown));
  };
  if (asks.wet_share < 1.0) {
    const Moment now_only = moment_now(trace, now, lane, world, margin);
    also({&now_only, 1}, asks.wet_share);
  }
  if (asks.excess < 1.0) {
    also(moments(trace, excess_looks(trace, now, lane, film_delays), lane, world, margin), asks.excess);
  }
  if (asks.bond > 0.0) {
    also(moments(trace, bond_looks(trace, now, world), lane, world, margin), 1.0 - asks.bond);
  }
  return most;
}

}  // namespace dryclock::models
