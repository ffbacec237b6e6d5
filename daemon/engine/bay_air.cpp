#include "engine/bay_air.hpp"

#include <algorithm>
#include <cmath>

#include "engine/minutes.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::engine {
namespace {

constexpr std::array needed{Quantity::air_temperature, Quantity::relative_humidity};

double dew_point_c(double air_c, double rh_pct) {
  return models::dew_point(models::vapour_pressure(models::Celsius{air_c}, models::Humidity{rh_pct / 100.0}))
      .value();
}

}  // namespace

void BayAir::add(const Reading& reading) {
  const auto before =
      series_[static_cast<std::size_t>(reading.quantity)][reading.sensor].add(reading.at, reading.value);
  const Time touched = floor_minute(before.value_or(reading.at)) - minute;
  if (scan_ && touched < *scan_) {
    scan_ = touched;
  }
  if (step_from_ && reading.quantity <= Quantity::relative_humidity) {
    auto& first_after = after_step_[static_cast<std::size_t>(reading.quantity)];
    if (!first_after) {
      first_after = reading.at;
    }
  }
}

void BayAir::clock_stepped() {
  const auto last_pair = newest_pair();
  for (auto& sensors : series_) {
    for (auto& [name, series] : sensors) {
      series.cut();
    }
  }
  if (last_pair && !step_from_) {
    step_from_ = last_pair;
    after_step_ = {};
  }
}

std::optional<Time> BayAir::first() const {
  return stretches_.empty() ? std::nullopt : std::optional<Time>{stretches_.front().front().at};
}

std::optional<Time> BayAir::frontier() const {
  return stretches_.empty() ? std::nullopt : std::optional<Time>{stretches_.back().back().at};
}

const AirPoint* BayAir::point(Time at) const {
  // Nearly always the newest of very few.
  const auto found = std::find_if(stretches_.rbegin(), stretches_.rend(),
                                  [&](const Stretch& stretch) { return stretch.front().at <= at; });
  if (found == stretches_.rend() || at > found->back().at) {
    return nullptr;
  }
  return &(*found)[static_cast<std::size_t>((at - found->front().at) / minute)];
}

std::optional<Time> BayAir::next_stretch(Time t) const {
  const auto found = std::find_if(stretches_.begin(), stretches_.end(),
                                  [&](const Stretch& stretch) { return stretch.front().at > t; });
  return found == stretches_.end() ? std::nullopt : std::optional<Time>{found->front().at};
}

std::optional<double> BayAir::mean(Quantity q, Time t) const {
  double sum = 0.0;
  int count = 0;
  for (const auto& [name, series] : sensors(q)) {
    if (const auto value = series.at(t, bridge_after_)) {
      sum += *value;
      ++count;
    }
  }
  return count == 0 ? std::nullopt : std::optional<double>{sum / count};
}

std::optional<double> BayAir::newest_mean(Quantity q, Time now) const {
  double sum = 0.0;
  int count = 0;
  for (const auto& [name, series] : sensors(q)) {
    if (!series.empty() && now - series.latest() <= bridge_after_) {
      sum += series.latest_value();
      ++count;
    }
  }
  return count == 0 ? std::nullopt : std::optional<double>{sum / count};
}

std::optional<Time> BayAir::newest(Quantity q) const {
  std::optional<Time> newest;
  for (const auto& [name, series] : sensors(q)) {
    if (!series.empty() && (!newest || series.latest() > *newest)) {
      newest = series.latest();
    }
  }
  return newest;
}

std::optional<Time> BayAir::newest_pair() const {
  const auto air = newest(Quantity::air_temperature);
  const auto humidity = newest(Quantity::relative_humidity);
  return air && humidity ? std::optional<Time>{std::min(*air, *humidity)} : std::nullopt;
}

PresentAir BayAir::present(Time now) const {
  PresentAir air;
  air.air_c = newest_mean(Quantity::air_temperature, now);
  air.rh_pct = newest_mean(Quantity::relative_humidity, now);
  air.panel_c = newest_mean(Quantity::panel_temperature, now);
  air.as_of = newest_pair();
  return air;
}

// The first minute at which both quantities have been heard of.
std::optional<Time> BayAir::start() const {
  Time from{};
  for (const auto q : needed) {
    std::optional<Time> earliest;
    for (const auto& [name, series] : sensors(q)) {
      if (!series.empty() && (!earliest || series.earliest() < *earliest)) {
        earliest = series.earliest();
      }
    }
    if (!earliest) {
      return std::nullopt;
    }
    from = std::max(from, ceil_minute(*earliest));
  }
  return from;
}

std::optional<AirPoint> BayAir::measured(Time t) const {
  const auto air_c = mean(Quantity::air_temperature, t);
  const auto rh_pct = mean(Quantity::relative_humidity, t);
  if (!air_c || !rh_pct) {
    return std::nullopt;
  }
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  AirPoint point;
  point.at = t;
  point.air_c = *air_c;
  point.rh_pct = *rh_pct;
  point.panel_c = mean(Quantity::panel_temperature, t).value_or(none);
  point.air_speed = mean(Quantity::air_speed, t).value_or(none);
  const double panel_c = std::isnan(point.panel_c) ? point.air_c : point.panel_c;
  point.pace = models::pace(models::Celsius{panel_c}, models::Celsius{point.air_c},
                            models::Humidity{point.rh_pct / 100.0});
  point.dew_point_c = dew_point_c(point.air_c, point.rh_pct);
  return point;
}

// No minute from t on and before this one can be measured; absent where none can.
std::optional<Time> BayAir::next_known(Time t) const {
  Time from = t;
  for (const auto q : needed) {
    std::optional<Time> soonest;
    for (const auto& [name, series] : sensors(q)) {
      const auto at = series.next_known(t, bridge_after_);
      if (at && (!soonest || *at < *soonest)) {
        soonest = at;
      }
    }
    if (!soonest) {
      return std::nullopt;
    }
    from = std::max(from, *soonest);
  }
  return from;
}

void BayAir::close_minutes(Time now, std::vector<GapRow>& gaps) {
  const auto pair = newest_pair();
  if (!pair) {
    return;
  }
  // A source clock may run ahead of ours by a little; minutes that have not come yet are left alone.
  const Time until = std::min(floor_minute(*pair), floor_minute(now));
  auto begin = frontier() ? std::optional<Time>{*frontier() + minute} : start();
  if (!begin) {
    return;
  }
  if (scan_ && *scan_ > *begin) {
    begin = scan_;
  }
  report_clock_step(gaps);
  for (Time t = *begin; t <= until; t += minute) {
    auto point = measured(t);
    if (!point) {
      // Silence is not walked through minute by minute: it may be years.
      const auto next = next_known(t);
      if (!next) {
        break;
      }
      t = std::max(t, *next - minute);
      continue;
    }
    if (frontier() && t > *frontier() + minute) {
      bridge(*point, gaps);
    }
    if (stretches_.empty()) {
      stretches_.emplace_back();
    }
    stretches_.back().push_back(*point);
  }
  scan_ = std::max(*begin, until + minute);
  if (frontier()) {
    for (auto& sensors : series_) {
      for (auto& [name, series] : sensors) {
        series.forget_before(*frontier());
      }
    }
  }
}

// The stretch between two known minutes, told by the readings at its ends: those of the quantity that was
// silent.
GapRow BayAir::gap(Time before, Time after) const {
  GapRow row{name_, after, before, GapWhy::no_readings};
  for (const auto q : needed) {
    if (!mean(q, before + minute)) {
      std::optional<Time> last;
      for (const auto& [name, series] : sensors(q)) {
        const auto at = series.last_until(before + minute);
        if (at && (!last || *at > *last)) {
          last = at;
        }
      }
      row.from = std::min(row.from, last.value_or(before));
    }
    if (!mean(q, after - minute)) {
      std::optional<Time> first;
      for (const auto& [name, series] : sensors(q)) {
        const auto at = series.first_from(after - minute);
        if (at && (!first || *at < *first)) {
          first = at;
        }
      }
      row.to = std::max(row.to, first.value_or(after));
    }
  }
  return row;
}

void BayAir::bridge(const AirPoint& after, std::vector<GapRow>& gaps) {
  const AirPoint before = stretches_.back().back();
  const GapRow row = gap(before.at, after.at);
  const bool reported = last_step_ && row.from < last_step_->to && row.to > last_step_->from;
  if (!reported) {
    gaps.push_back(row);
  }
  if (after.at - before.at > longest_bridge) {
    stretches_.emplace_back();  // the caller puts `after` into it
    return;
  }
  AirPoint slower = before.pace <= after.pace ? before : after;
  slower.bridged = true;
  for (Time t = before.at + minute; t < after.at; t += minute) {
    slower.at = t;
    stretches_.back().push_back(slower);
  }
}

// A step may be shorter than a minute and bridge nothing; it is on record all the same.
void BayAir::report_clock_step(std::vector<GapRow>& gaps) {
  if (step_from_ && after_step_[0] && after_step_[1]) {
    last_step_ = GapRow{name_, *step_from_, std::max(*after_step_[0], *after_step_[1]), GapWhy::clock_step};
    gaps.push_back(*last_step_);
    step_from_.reset();
  }
}

void BayAir::forget_before(Time t) {
  while (stretches_.size() > 1 && stretches_.front().back().at < t) {
    stretches_.pop_front();
  }
  if (stretches_.empty()) {
    return;
  }
  auto& oldest = stretches_.front();
  while (oldest.size() > 1 && oldest.front().at < t) {
    oldest.pop_front();
  }
}

}  // namespace dryclock::engine
