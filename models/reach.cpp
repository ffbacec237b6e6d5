#include "models/reach.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace dryclock::models {
namespace {

constexpr double parts = static_cast<double>(looks_back);

// The middle of part i of equal ones.
double middle(std::size_t i) {
  return (static_cast<double>(i) + 0.5) / parts;
}

class ZoneNow {
 public:
  ZoneNow(const CourseTrace& trace, std::size_t now, std::size_t lane, const WaterWorld& world,
          const Margin& margin)
      : trace_(trace), now_(now), lane_(lane), world_(world), margin_(margin) {}

  [[nodiscard]] double shares_at_most(double limit, double guess) const {
    const Moment moment{1.0, trace_[now_].drunk[lane_] / world_.break_up,
                        margin_.left(trace_[now_].front_squared)};
    return most_water(*world_.spread, {&moment, 1}, limit, guess);
  }
  [[nodiscard]] double excess_at_most(double limit, const std::array<double, looks_back>& delays,
                                      double guess) const {
    std::array<Moment, looks_back> moments{};
    for (std::size_t i = 0; i < looks_back; ++i) {
      auto place = trace_.where_film_time(lane_, trace_[now_].film_time[lane_] - delays[i], now_);
      place.before_lay = false;  // a column that was dry at lay never had moisture of the liquid's
      moments[i] = moment(place);
    }
    return most_water(*world_.spread, moments, limit, guess);
  }
  [[nodiscard]] double bond_at_least(double bond, double guess) const {
    const double clock = trace_[now_].clock[static_cast<std::size_t>(world_.law)];
    std::array<Moment, looks_back> moments{};
    for (std::size_t i = 0; i < looks_back; ++i) {
      moments[i] =
          moment(trace_.where_clock(world_.law, clock - world_.bond_slowness * bond_delays()[i], now_));
    }
    return most_water(*world_.spread, moments, 1.0 - bond, guess);
  }

 private:
  [[nodiscard]] Moment moment(const CourseTrace::Place& place) const {
    if (place.before_lay) return {1.0 / parts, -1.0, 1.0};
    return {1.0 / parts, trace_.drunk(place, lane_) / world_.break_up,
            margin_.left(trace_.front_squared(place))};
  }

  const CourseTrace& trace_;
  std::size_t now_, lane_;
  const WaterWorld& world_;
  const Margin& margin_;
};

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
    const double wanted = 1.0 - middle(i);
    double low = 0.0, high = 40.0 / modes.dry_rate[0];
    for (int round = 0; round < 60; ++round) {
      const double at = 0.5 * (low + high);
      (left(at) > wanted ? low : high) = at;
    }
    delays[i] = high;
  }
  return delays;
}

const std::array<double, looks_back>& bond_delays() {
  static const std::array<double, looks_back> delays = [] {
    std::array<double, looks_back> out{};
    for (std::size_t i = 0; i < looks_back; ++i) {
      out[i] = bond_begins * std::pow(bond_complete / bond_begins, middle(i));
    }
    return out;
  }();
  return delays;
}

double Margin::left(double front_squared) const {
  if (width <= 0.0) return 1.0;
  const double pressed = std::min(front_squared, opened_at);
  const double reached = openness * pressed + opened * (front_squared - pressed);
  return std::max(0.0, 1.0 - std::sqrt(reached) / width);
}

double most_water(const CourseTrace& trace, std::size_t now, std::size_t lane,
                  const std::array<double, looks_back>& film_delays, const WaterWorld& world,
                  const Margin& margin, const ZoneAsks& asks, double guess) {
  const ZoneNow zone(trace, now, lane, world, margin);
  const double unit = std::log(world.break_up);
  double most = std::numeric_limits<double>::infinity();
  const auto also = [&](double log_water) { most = std::min(most, log_water + unit); };
  if (asks.wet_share < 1.0) also(zone.shares_at_most(asks.wet_share, guess - unit));
  if (asks.excess < 1.0) also(zone.excess_at_most(asks.excess, film_delays, guess - unit));
  if (asks.bond > 0.0) also(zone.bond_at_least(asks.bond, guess - unit));
  return most;
}

}  // namespace dryclock::models
