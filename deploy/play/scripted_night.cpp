#include "play/scripted_night.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "models/humid_air.hpp"

namespace dryclock::play {
namespace {

// A small workshop: it loses its heat within hours, and wet work keeps its air moister than outside's.
constexpr double cooling_time_s = 4.0 * 3600.0;
constexpr double heater_reserve_k = 10.0;   // how far above the set point it could hold the bay
constexpr double thermostat_swing_k = 0.3;  // either way
constexpr models::Pascal moisture_gain{250.0};

struct Air {
  double temperature_c = 0.0;
  models::Pascal vapour;
};

// Coldest at six in the morning.
Air outside_at(Time at) {
  const double hour = seconds_between(std::chrono::floor<std::chrono::days>(at), at) / 3600.0;
  const double temperature_c = 3.5 - 2.5 * std::cos((hour - 6.0) / 24.0 * 2.0 * std::numbers::pi);
  return {temperature_c, models::vapour_pressure(models::Celsius{1.0}, models::Humidity{0.95})};
}

class Bay {
 public:
  Bay(const ScriptedBay& script, Time start) : script_(script), temperature_c_(script.set_c), now_(start) {}

  Air at(Time time) {
    for (; now_ < time; now_ += std::chrono::seconds{10}) {
      step(10.0);
    }
    return {temperature_c_, outside_at(time).vapour + moisture_gain};
  }

 private:
  void step(double seconds) {
    if (temperature_c_ < script_.set_c - thermostat_swing_k) {
      heating_ = true;
    } else if (temperature_c_ > script_.set_c + thermostat_swing_k) {
      heating_ = false;
    }
    const bool broken = script_.heater_off && now_ >= *script_.heater_off &&
                        !(script_.heater_on && now_ >= *script_.heater_on);
    const double outside_c = outside_at(now_).temperature_c;
    const double towards_c = heating_ && !broken ? script_.set_c + heater_reserve_k : outside_c;
    temperature_c_ += (towards_c - temperature_c_) * seconds / cooling_time_s;
  }

  ScriptedBay script_;
  double temperature_c_;
  Time now_;
  bool heating_ = false;
};

// The last digit of a real sensor wanders; this one does so the same way every time (Knuth's multiplicative
// hash). [0, 1)
double wander(Time at) {
  const auto hash = static_cast<std::uint32_t>(to_unix_ms(at) / 1000) * 2'654'435'761U;
  return static_cast<double>(hash) / 4'294'967'296.0;
}

Message message(const std::string& base, const std::string& place, Time at, const Air& air) {
  const double temperature_c = air.temperature_c + 0.04 * (wander(at) - 0.5);
  const double humidity = air.vapour / models::saturation_pressure(models::Celsius{temperature_c});
  return {at, base + "/" + place + "/air",
          sensor_payload(temperature_c, 100.0 * std::min(humidity, 1.0), at)};
}

}  // namespace

Messages scripted_night(const NightOptions& options) {
  std::vector<Bay> bays;
  for (const ScriptedBay& script : options.bays) {
    bays.emplace_back(script, options.from);
  }
  Messages messages;
  for (Time at = options.from; at <= options.from + options.length; at += options.every) {
    for (std::size_t i = 0; i < bays.size(); ++i) {
      messages.push_back(message(options.base, options.bays[i].name, at, bays[i].at(at)));
    }
    messages.push_back(message(options.base, "outside", at, outside_at(at)));
  }
  return messages;
}

}  // namespace dryclock::play
