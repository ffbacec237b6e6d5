// The air of all bays, and what a vehicle standing in one finds there.
#pragma once

#include <map>
#include <string>

#include "domain/setup.hpp"
#include "engine/air_hours.hpp"
#include "engine/bay_air.hpp"

namespace dryclock::engine {

class Bays {
 public:
  explicit Bays(const Setup& setup) { follow(setup); }
  // New settings: bays are added, none is dropped.
  void follow(const Setup& setup);

  [[nodiscard]] BayAir* find(const std::string& bay);
  [[nodiscard]] const BayAir* find(const std::string& bay) const;
  [[nodiscard]] const std::map<std::string, BayAir>& all() const { return bays_; }

  // A bay's air at one whole minute. `none`: nobody measures there, or nobody did for long then. `later`: it
  // will be known when the next readings come.
  enum class Known { yes, none, later };
  struct Found {
    Known known = Known::none;
    const AirPoint* point = nullptr;
  };
  [[nodiscard]] Found at(const std::string& bay, Time minute) const;

  // Hours as they were told before; call before the first minute comes (AirHours::know).
  void know(const std::vector<AirHour>& hours);
  // Minutes up to `now`, and the hours that became whole with them; minutes before `needed` are dropped.
  void close_minutes(Time now, Time needed, Effects& effects);
  // The air of a bay from now on (AirHours::ahead); empty where nobody measures.
  [[nodiscard]] std::vector<models::WeightedCourse> ahead(const std::string& bay, Time now, Millis ahead,
                                                          Millis step) const;
  // Hour by hour (AirHours::forecast).
  [[nodiscard]] std::optional<AirHours::Ahead> forecast(const std::string& bay, Time now, Millis ahead) const;

  // No air is joined across what comes now.
  void clock_stepped();

  [[nodiscard]] Millis bridge_after() const { return bridge_after_; }

 private:
  std::map<std::string, BayAir> bays_;  // all: a sensor may be set up at any time
  std::map<std::string, AirHours> hours_;
  Millis bridge_after_{};
};

}  // namespace dryclock::engine
