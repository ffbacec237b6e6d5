// Many readings of the air gathered into one long step of the modes.
//
// When the liquid ends depends on Integral theta dt and Integral theta a_out dt alone, and fast unrest of the
// air hardly enters the film, which takes tens of minutes to follow. So a block keeps its first and its last
// reading and the means of all: in between it is the parabola with those means. What the vapour pressure
// gains or loses by temperature and humidity moving together faster than that (a heater that cycles) is put
// right to second order. A modelled panel follows the readings in steps of `panel_step`, or one by one where
// they are further apart.
// Air that jumps ends its block, so that its steps are short there. Drying times stay within 0.1 % of steps
// from reading to reading (tests/models/test_air_block.cpp).
#pragma once

#include <cstddef>
#include <span>

#include "models/catalogue.hpp"
#include "models/panel_heat.hpp"

namespace dryclock::models {

inline constexpr Seconds longest_block{1800.0};
inline constexpr Seconds panel_step{300.0};

class AirBlock {
 public:
  // Begins at a reading, with the panel as it is then.
  AirBlock(const Surroundings& first, const PanelState& panel, const PanelThermal& thermal,
           Seconds longest = longest_block);

  // Takes the next readings, `spacing` apart, for as long as they are of one kind (in range; panel and speed
  // measured or not), within a few degrees and per cent of each other, and not longer than a block. The first
  // of `points` is the last reading taken. The number of intervals taken; 0: these readings need finer steps.
  std::size_t gather(std::span<const Surroundings> points, Seconds spacing);

  [[nodiscard]] const Surroundings& begin() const { return begin_; }
  [[nodiscard]] const Surroundings& end() const { return end_; }
  // The parabola half way. `panel_c` of it is set in any case.
  [[nodiscard]] Surroundings middle() const;
  [[nodiscard]] const PanelState& panel() const { return panel_; }  // at the end
  [[nodiscard]] Seconds duration() const { return Seconds{seconds_}; }

 private:
  // Extremes of what has been taken.
  struct Extent {
    double low, high;
    explicit Extent(double value) : low(value), high(value) {}
    void add(double value) {
      low = value < low ? value : low;
      high = value > high ? value : high;
    }
    [[nodiscard]] double size() const { return high - low; }
  };
  // Time integrals, of air temperature and humidity as departures from the first reading. [s x their units]
  struct Sums {
    double air = 0.0, humidity = 0.0, air_air = 0.0, air_humidity = 0.0, heat = 0.0, panel = 0.0;
  };

  [[nodiscard]] std::size_t take_chunk(std::span<const Surroundings> points, double spacing);

  PanelThermal thermal_;
  double longest_;
  Surroundings begin_, end_;
  PanelState first_panel_, panel_;
  double seconds_ = 0.0;
  Sums sums_;
  Extent air_, humidity_, heat_, panel_c_;
};

}  // namespace dryclock::models
