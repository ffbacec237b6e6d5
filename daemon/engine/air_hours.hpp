// What the outlook has learnt of one bay's air: the mean of each hour of the clock that was measured, and
// what they foretell. It is a function of the hours of the last sixty days before today (UTC), hour by hour,
// and of the newest sixty minutes: the same to the bit after a start as before it.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "domain/effects.hpp"
#include "engine/bay_air.hpp"
#include "models/air_outlook.hpp"

namespace dryclock::engine {

inline constexpr std::chrono::days air_remembered{60};
// Hours that end so long before the first minute may count: these days, and the one that has begun.
inline constexpr Millis air_needed = air_remembered + std::chrono::days{1};

class AirHours {
 public:
  // Of a room that is heated to a temperature less is open while nothing has been seen of it.
  void heated(bool is_so);
  // An hour as it was told before; call before the first minute comes. It stays as it is, also where minutes
  // to come are its own.
  void know(const AirHour& hour);
  // Takes the hours that have become whole, and appends them to `news`; those that are known already are not
  // news. Bridged minutes are no measurement, and an hour of which less than half was measured is passed
  // over.
  void follow(const BayAir& air, const std::string& bay, std::vector<AirHour>& news);
  // Its next days hour by hour; `from` is now's lead in it. Absent where nobody measures. While sensors are
  // silent it is what their last hour foretold.
  struct Ahead {
    models::AirForecast air;
    double from = 0.0;  // h
  };
  [[nodiscard]] std::optional<Ahead> forecast(const BayAir& air, Time now, Millis ahead) const;
  // The air every `step` from now on, for so long: courses of one weight, the likely one first; empty where
  // nobody measures.
  [[nodiscard]] std::vector<models::WeightedCourse> ahead(const BayAir& air, Time now, Millis ahead,
                                                          Millis step) const;

 private:
  void learn_until(Time whole) const;

  std::map<Time, models::AirMean> means_;  // by the hour's end
  bool heated_ = false;
  std::optional<Time> taken_;  // hours until then are in `means_`, where they were measured
  // What the means say, made when it is asked for.
  mutable std::optional<models::AirOutlook> outlook_;
  mutable Time begun_, learnt_;
};

}  // namespace dryclock::engine
