#include "models/air_memory.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {
namespace {

// Chosen on outdoor air of two airports and the first year of three places (models/README.md).
constexpr double first_wave = 0.8;         // of what is daily: the wave of 24 h
constexpr double noise = 0.004;            // of one hour's mean
constexpr double level_step = 0.0015;      // what the level's variance grows by in an hour
constexpr double scale_lasts = 240.0;      // h
constexpr double start_counts = 24.0;      // h that the cold start is worth
constexpr double most_missed = 4.0;        // standard deviations: beyond, an hour teaches no more
constexpr double likelihood_counts = 0.5;  // its exponent: hours are less independent than the filters think

std::vector<StructuralFilter> bank() {
  std::vector<StructuralFilter> out;
  for (const double daily : {0.03, 0.3, 0.6}) {
    for (const double fast : {0.02, 0.1, 0.5}) {
      for (const double medium : {0.2, 0.8}) {
        const double rest = 1.0 - daily;
        out.emplace_back(Shares{.level_step = level_step,
                                .slow = rest * (1.0 - fast) * (1.0 - medium),
                                .medium = rest * (1.0 - fast) * medium,
                                .fast = rest * fast,
                                .daily = first_wave * daily,
                                .half_daily = (1.0 - first_wave) * daily,
                                .noise = noise});
      }
    }
  }
  return out;
}

const Leads& ahead() {
  static const Leads week = leads(longest_forecast);
  return week;
}

}  // namespace

AirMemory::AirMemory(ColdStart start) : filters_(bank()), start_(start) {}

void AirMemory::pass(double hours) {
  if (!started()) return;
  const Motion motion(hours);
  for (std::size_t k = 0; k < members; ++k) {
    filters_[k].pass(motion);
    temperature_.parts[k] = motion.moved(temperature_.parts[k]);
    vapour_.parts[k] = motion.moved(vapour_.parts[k]);
  }
}

// The first air is the level; each member's scale is such that it may be off by the cold start in a day.
void AirMemory::start(const AirMean& air) {
  seen_ = start_counts;
  for (StructuralFilter& filter : filters_) {
    filter.see();
  }
  const Unknown after = unknown(24);
  for (std::size_t k = 0; k < members; ++k) {
    const auto scale2 = [&](double spread) { return spread * spread / after.value[k]; };
    temperature_.parts[k][0] = air.temperature;
    vapour_.parts[k][0] = air.vapour;
    temperature_.missed[k] = seen_ * scale2(start_.temperature);
    vapour_.missed[k] = seen_ * scale2(start_.vapour * air.vapour);
  }
}

void AirMemory::see(const AirMean& air) {
  if (!started()) {
    start(air);
    return;
  }
  static const Motion an_hour{1.0};
  for (std::size_t k = 0; k < members; ++k) {
    filters_[k].pass(an_hour);
    temperature_.parts[k] = an_hour.moved(temperature_.parts[k]);
    vapour_.parts[k] = an_hour.moved(vapour_.parts[k]);
    const auto taught = filters_[k].see();
    learn(temperature_, air.temperature, k, taught);
    learn(vapour_, air.vapour, k, taught);
  }
  seen_ = seen_ * (1.0 - 1.0 / scale_lasts) + 1.0;
}

void AirMemory::learn(Value& value, double came, std::size_t k,
                      const StructuralFilter::Taught& taught) const {
  // A value that never moved would leave no scale to divide by.
  constexpr double least = 1e-12;
  const double expected = std::max(least, value.missed[k] / seen_ * taught.variance);
  const double most = most_missed * std::sqrt(expected);
  const double missed = std::clamp(came - product(value_row, value.parts[k]), -most, most);
  value.log_likelihood[k] -= 0.5 * (std::log(expected) + missed * missed / expected);
  value.missed[k] = value.missed[k] * (1.0 - 1.0 / scale_lasts) + missed * missed / taught.variance;
  for (std::size_t i = 0; i < structural_parts; ++i) {
    value.parts[k][i] += taught.gain[i] * missed;
  }
}

AirMemory::Unknown AirMemory::unknown(std::size_t lead) const {
  const Leads& leads = ahead();
  Unknown out;
  for (std::size_t k = 0; k < members; ++k) {
    const StructuralFilter& filter = filters_[k];
    out.value[k] = filter.variance(leads.value[lead]) + product(filter.renewed(), leads.value_new[lead]) +
                   filter.noise();
    out.sum[k] = filter.variance(leads.sum[lead]) + product(filter.renewed(), leads.sum_new[lead]) +
                 static_cast<double>(lead) * filter.noise();
  }
  return out;
}

namespace {

template <std::size_t count>
std::array<double, count> weights(const std::array<double, count>& log_likelihood) {
  const double best = *std::ranges::max_element(log_likelihood);
  std::array<double, count> out{};
  double sum = 0.0;
  for (std::size_t k = 0; k < count; ++k) {
    out[k] = std::exp(likelihood_counts * (log_likelihood[k] - best));
    sum += out[k];
  }
  for (double& weight : out) {
    weight /= sum;
  }
  return out;
}

}  // namespace

ValueForecast AirMemory::forecast(const Value& value, std::size_t hours,
                                  const std::vector<std::size_t>& spreads_at,
                                  const std::vector<Unknown>& unknown) const {
  const EachMember weight = weights(value.log_likelihood);
  Parts mixed{};
  for (std::size_t k = 0; k < members; ++k) {
    for (std::size_t i = 0; i < structural_parts; ++i) {
      mixed[i] += weight[k] * value.parts[k][i];
    }
  }
  const Leads& leads = ahead();
  ValueForecast out;
  for (std::size_t h = 0; h <= hours; ++h) {
    out.mean.push_back(product(leads.value[h], mixed));
  }
  // Of a mixture: what each member does not know, and by how much its mean is off theirs together.
  const auto spread = [&](const Parts& row, const EachMember& unknown_to) {
    const double mean = product(row, mixed);
    double variance = 0.0;
    for (std::size_t k = 0; k < members; ++k) {
      const double apart = product(row, value.parts[k]) - mean;
      variance += weight[k] * (value.missed[k] / seen_ * unknown_to[k] + apart * apart);
    }
    return std::sqrt(variance);
  };
  out.spread.assign(hours + 1, 0.0);
  out.sum_spread = out.spread;
  for (std::size_t n = 0; n < spreads_at.size(); ++n) {
    const std::size_t h = spreads_at[n];
    out.spread[h] = spread(leads.value[h], unknown[n].value);
    out.sum_spread[h] = spread(leads.sum[h], unknown[n].sum);
  }
  return out;
}

AirForecast AirMemory::forecast(std::size_t hours, const std::vector<std::size_t>& spreads_at) const {
  const std::size_t most = std::min(hours, longest_forecast);
  std::vector<Unknown> all;
  for (const std::size_t lead : spreads_at) {
    all.push_back(unknown(lead));
  }
  return {forecast(temperature_, most, spreads_at, all), forecast(vapour_, most, spreads_at, all)};
}

}  // namespace dryclock::models
