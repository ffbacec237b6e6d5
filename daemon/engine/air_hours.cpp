#include "engine/air_hours.hpp"

#include <algorithm>
#include <cmath>

#include "engine/minutes.hpp"
#include "models/humid_air.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis hour = std::chrono::hours{1};
constexpr int whole_enough = 30;      // minutes
constexpr double middle_of_it = 0.5;  // h: the mean of the last hour is the air of half an hour ago

Time floor_hour(Time t) {
  return std::chrono::floor<std::chrono::hours>(t);
}

Time begin_for(Time whole) {
  return std::chrono::floor<std::chrono::days>(whole) - air_remembered;
}

// Of what was measured of the hour until then.
std::optional<models::AirMean> mean_of(const BayAir& air, Time until, int least) {
  models::AirMean sum;
  int count = 0;
  for (Time t = until - hour + minute; t <= until; t += minute) {
    const AirPoint* point = air.point(t);
    if (point == nullptr || point->bridged) {
      continue;
    }
    sum.temperature += point->air_c;
    sum.vapour +=
        models::vapour_pressure(models::Celsius{point->air_c}, models::Humidity{point->rh_pct / 100.0})
            .value();
    ++count;
  }
  return count < least ? std::nullopt
                       : std::optional{models::AirMean{sum.temperature / count, sum.vapour / count}};
}

}  // namespace

void AirHours::heated(bool is_so) {
  if (heated_ != is_so) {
    heated_ = is_so;
    outlook_.reset();
  }
}

void AirHours::know(const AirHour& hour) {
  means_.try_emplace(hour.until, hour.mean);
  outlook_.reset();
}

void AirHours::follow(const BayAir& air, const std::string& bay, std::vector<AirHour>& news) {
  if (!air.frontier()) {
    return;
  }
  if (!taken_) {  // the hour of the very first minute is not whole, but where that begins it
    taken_ = std::chrono::ceil<std::chrono::hours>(*air.first() - minute);
  }
  const Time whole = floor_hour(*air.frontier());
  if (*taken_ >= whole) {
    return;
  }
  while (*taken_ < whole) {
    const Time until = *taken_ + hour;
    const auto mean = means_.contains(until) ? std::nullopt : mean_of(air, until, whole_enough);
    if (mean) {
      means_.emplace(until, *mean);
      news.push_back({bay, until, *mean});
    }
    taken_ = until;
    // A hole may be years wide.
    const auto next = air.point(until + minute) == nullptr ? air.next_stretch(until) : std::nullopt;
    if (next) {
      taken_ = std::max(until, floor_hour(*next - minute));
    }
  }
  means_.erase(means_.begin(), means_.upper_bound(begin_for(whole)));
}

// Hour by hour, for a span that is passed in one go comes to other last bits.
void AirHours::learn_until(Time whole) const {
  const Time begin = begin_for(whole);
  if (!outlook_ || begun_ != begin) {
    outlook_.emplace(heated_ ? models::heated_start : models::ColdStart{});
    begun_ = learnt_ = begin;
  }
  for (; learnt_ < whole; learnt_ += hour) {
    const auto mean = means_.find(learnt_ + hour);
    if (mean != means_.end()) {
      outlook_->see(mean->second);
    } else {
      outlook_->pass(1);
    }
  }
}

std::optional<AirHours::Ahead> AirHours::forecast(const BayAir& air, Time now, Millis ahead) const {
  const auto newest = air.frontier();
  const auto mean = newest ? mean_of(air, *newest, 1) : std::nullopt;
  if (!mean) {
    return std::nullopt;
  }
  const Time whole = floor_hour(*newest);
  learn_until(whole);
  const double from = middle_of_it + std::max(0.0, hours(now - *newest));
  const auto reach = static_cast<std::size_t>(
      std::min(std::ceil(from + hours(ahead)), static_cast<double>(models::longest_forecast)));
  return Ahead{outlook_->glance(*mean, hours(*newest - whole), reach), from};
}

std::vector<models::WeightedCourse> AirHours::ahead(const BayAir& air, Time now, Millis ahead,
                                                    Millis step) const {
  const auto known = forecast(air, now, ahead);
  return known ? models::courses(known->air, known->from,
                                 models::Seconds{std::chrono::duration<double>(step).count()},
                                 static_cast<std::size_t>(ahead / step) + 1)
               : std::vector<models::WeightedCourse>{};
}

}  // namespace dryclock::engine
