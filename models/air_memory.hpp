// What a bay's air has taught by the hour, and its next days from that. Temperature and vapour pressure are
// each foretold by a bank of structural filters (models/structural.hpp) that differ in how much of the value
// is daily, fast and medium; each is weighed by how well it foretold the hours so far. A function of the
// hours alone, in their order, to the last bit; it needs no log and does not grow.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "models/structural.hpp"

namespace dryclock::models {

// The mean of the air over an hour, or over what was measured of it. What a thermostat does within the hour
// is averaged out.
struct AirMean {
  double temperature = 0.0;  // C
  double vapour = 0.0;       // Pa
};

// How far the air may be off a day later, while nothing has been seen yet: standard deviations (assumptions).
struct ColdStart {
  double temperature = 3.0;  // K
  double vapour = 0.25;      // of the vapour pressure
};
inline constexpr ColdStart heated_start{1.2, 0.15};  // told that the room is heated to a temperature

// One value ahead, an entry an hour from the last one seen (entry 0) on.
struct ValueForecast {
  std::vector<double> mean;
  std::vector<double> spread;      // standard deviation of its error; 0 where it was not asked for
  std::vector<double> sum_spread;  // of the error of the sum over hours 1 to h; likewise
};
struct AirForecast {
  ValueForecast temperature, vapour;  // C, Pa
};

inline constexpr std::size_t longest_forecast = 7 * 24;  // h

class AirMemory {
 public:
  explicit AirMemory(ColdStart start = {});

  // The air of the hour that follows the last one seen or passed.
  void see(const AirMean& air);
  // So many hours without air; any number, also a part of one.
  void pass(double hours);

  [[nodiscard]] bool started() const { return seen_ > 0.0; }

  // Means for so many hours ahead, a week at most; spreads at the leads asked for, none beyond. Once started.
  [[nodiscard]] AirForecast forecast(std::size_t hours, const std::vector<std::size_t>& spreads_at) const;

 private:
  static constexpr std::size_t members = 18;
  using EachMember = std::array<double, members>;
  struct Value {
    std::array<Parts, members> parts{};
    EachMember missed{};  // squares of what each missed by over what it expected, weighed by age
    EachMember log_likelihood{};
  };
  // Of the members at one lead, in units of their scale squared; the same for both values.
  struct Unknown {
    EachMember value{}, sum{};
  };
  void start(const AirMean& air);
  void learn(Value& value, double came, std::size_t member, const StructuralFilter::Taught& taught) const;
  [[nodiscard]] Unknown unknown(std::size_t lead) const;
  [[nodiscard]] ValueForecast forecast(const Value& value, std::size_t hours,
                                       const std::vector<std::size_t>& spreads_at,
                                       const std::vector<Unknown>& unknown) const;

  std::vector<StructuralFilter> filters_;  // members: what is not known is the same for both values
  ColdStart start_;
  Value temperature_, vapour_;
  double seen_ = 0.0;  // h, weighed by age: what each scale rests on
};

}  // namespace dryclock::models
