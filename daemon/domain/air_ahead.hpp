// A bay's air at a full hour to come.
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "domain/field.hpp"
#include "domain/types.hpp"
#include "models/air_outlook.hpp"
#include "models/normal.hpp"
#include "models/quantiles.hpp"

namespace dryclock {

struct AirHourAhead {
  Time at;
  models::Quantiles air_c, rh_pct, pace;
  std::optional<double> cold{}, damp{};  // chances; absent: the bay has no such limit
  double dew = 0.0;
};
void visit_fields(auto& f, Of<AirHourAhead> auto& s) {
  f.type("AirHourAhead", "a bay's air at a full hour to come: bands of 80 %, and chances");
  f("at", s.at);
  f("air_c", s.air_c);
  f("rh_pct", s.rh_pct);
  f("pace", s.pace, "of drying, against air of 21 C and 50 %");
  f("cold", s.cold, chance, "that it is colder than the bay's limit; null: it has none");
  f("damp", s.damp, chance, "that it is damper than the bay's limit; null: it has none");
  f("dew", s.dew, chance, "that a panel as warm as the air comes within the dew margin");
}

// What an alert would say of the air then; absent: no limit.
struct AirLimits {
  std::optional<double> cold_below_c, damp_above_pct;
  double dew_margin_k = 3.0;
};

// The full hours after `now` in a forecast in which now is `from` hours after its entry 0.
[[nodiscard]] inline std::vector<AirHourAhead> hours_ahead(const models::AirForecast& air, double from,
                                                           Time now, const AirLimits& limits) {
  static const double z90 = models::normal_quantile(0.9);
  const auto band = [](const models::Likely& value, double least, double most, double unit) {
    const auto at = [&](double z) { return unit * std::clamp(value.mean + z * value.spread, least, most); };
    return models::Quantiles{at(-z90), at(0.0), at(z90)};
  };
  const auto chance_below = [](double limit, const models::Likely& value) {
    return value.spread > 0.0 ? models::normal_cdf((limit - value.mean) / value.spread)
                              : (value.mean < limit ? 1.0 : 0.0);
  };
  constexpr double any = 1e3;  // C, and standard paces: no bound
  const double last = static_cast<double>(air.temperature.mean.size()) - 1.0;
  std::vector<AirHourAhead> out;
  for (Time at = std::chrono::floor<std::chrono::hours>(now) + std::chrono::hours{1};;
       at += std::chrono::hours{1}) {
    const double lead = from + seconds_between(now, at) / 3600.0;
    if (lead > last) {
      return out;
    }
    const auto then = models::air_then(air, lead);
    AirHourAhead hour{at, band(then.temperature, -any, any, 1.0), band(then.humidity, 0.0, 1.0, 100.0),
                      band(then.pace, 0.0, any, 1.0)};
    if (limits.cold_below_c) {
      hour.cold = chance_below(*limits.cold_below_c, then.temperature);
    }
    if (limits.damp_above_pct) {
      hour.damp = 1.0 - chance_below(*limits.damp_above_pct / 100.0, then.humidity);
    }
    hour.dew = chance_below(limits.dew_margin_k, then.dew_margin);
    out.push_back(hour);
  }
}

}  // namespace dryclock
