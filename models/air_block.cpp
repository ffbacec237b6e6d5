#include "models/air_block.hpp"

#include <algorithm>
#include <cmath>

#include "models/humid_air.hpp"

namespace dryclock::models {
namespace {

// How far readings of one block may lie apart: the unrest of a good sensor and of a heater, not an open door.
constexpr double widest_air = 2.5;        // K
constexpr double widest_humidity = 0.10;  // of relative humidity
constexpr double widest_panel = 1.5;      // K
constexpr double widest_heat = 10.0;      // W/m2

bool same_speed(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

// Half way on the parabola that has these ends and this mean.
double half_way(double begin, double mean, double end) {
  return (6.0 * mean - begin - end) / 4.0;
}

}  // namespace

AirBlock::AirBlock(const Surroundings& first, const PanelState& panel, const PanelThermal& thermal,
                   Seconds longest)
    : thermal_(thermal),
      longest_(longest.value()),
      begin_(first),
      end_(first),
      first_panel_(panel),
      panel_(panel),
      air_(first.air.value()),
      humidity_(first.humidity.value()),
      heat_(first.absorbed_heat),
      panel_c_(std::isnan(first.panel_c) ? panel.sheet_c : first.panel_c) {
  panel_.sheet_c = panel_c_.low;
  first_panel_ = panel_;
}

std::size_t AirBlock::gather(std::span<const Surroundings> points, Seconds spacing) {
  std::size_t taken = 0;
  while (taken + 1 < points.size()) {
    const std::size_t chunk = take_chunk(points.subspan(taken), spacing.value());
    if (chunk == 0) break;
    taken += chunk;
  }
  return taken;
}

// The readings of one step of the panel, all or none.
std::size_t AirBlock::take_chunk(std::span<const Surroundings> points, double spacing) {
  const auto most = static_cast<std::size_t>(std::max(1.0, panel_step.value() / spacing));
  const std::size_t count = std::min(points.size() - 1, most);
  const double seconds = spacing * static_cast<double>(count);
  if (seconds_ + seconds > longest_) return 0;

  const bool measured = !std::isnan(begin_.panel_c);
  Extent air = air_, humidity = humidity_, heat = heat_, panel_c = panel_c_;
  Sums add;
  for (std::size_t i = 0; i <= count; ++i) {
    const Surroundings& point = points[i];
    if (out_of_range(point) != valid || std::isnan(point.panel_c) == measured ||
        !same_speed(point.air_speed, begin_.air_speed) || !std::isfinite(point.absorbed_heat)) {
      return 0;
    }
    const double share = i == 0 || i == count ? 0.5 * spacing : spacing;
    const double air_off = (point.air - begin_.air).value();
    const double humidity_off = (point.humidity - begin_.humidity).value();
    add.air += share * air_off;
    add.humidity += share * humidity_off;
    add.air_air += share * air_off * air_off;
    add.air_humidity += share * air_off * humidity_off;
    add.heat += share * point.absorbed_heat;
    air.add(point.air.value());
    humidity.add(point.humidity.value());
    heat.add(point.absorbed_heat);
    if (measured) {
      add.panel += share * point.panel_c;
      panel_c.add(point.panel_c);
    }
  }
  if (air.size() > widest_air || humidity.size() > widest_humidity || heat.size() > widest_heat) return 0;

  // The panel under the straight line of the chunk's mean and rise.
  const Surroundings& first = points.front();
  Surroundings from = points[count];
  Surroundings to = points[count];
  const double rise = (to.air - first.air).value();
  const double mean = begin_.air.value() + add.air / seconds;
  from.air = Celsius{mean - 0.5 * rise};
  to.air = Celsius{mean + 0.5 * rise};
  const double more_heat = to.absorbed_heat - first.absorbed_heat;
  from.absorbed_heat = add.heat / seconds - 0.5 * more_heat;
  to.absorbed_heat = add.heat / seconds + 0.5 * more_heat;
  from.panel_c = first.panel_c;
  const PanelState after = models::advance(panel_, thermal_, from, to, Seconds{seconds});
  if (!measured) {
    const double half_c =
        models::advance(panel_, thermal_, from, between(from, to, 0.5), Seconds{0.5 * seconds}).sheet_c;
    add.panel = seconds / 6.0 * (panel_.sheet_c + 4.0 * half_c + after.sheet_c);
    panel_c.add(after.sheet_c);
  }
  if (panel_c.size() > widest_panel) return 0;

  panel_ = after;
  end_ = points[count];
  seconds_ += seconds;
  sums_.air += add.air;
  sums_.humidity += add.humidity;
  sums_.air_air += add.air_air;
  sums_.air_humidity += add.air_humidity;
  sums_.panel += add.panel;
  air_ = air;
  humidity_ = humidity;
  heat_ = heat;
  panel_c_ = panel_c;
  return count;
}

Surroundings AirBlock::middle() const {
  // Departures from the first reading, so that of the parabola's three values one is 0.
  const double air_mean = sums_.air / seconds_;
  const double humidity_mean = sums_.humidity / seconds_;
  const double air_end = (end_.air - begin_.air).value();
  const double humidity_end = (end_.humidity - begin_.humidity).value();
  const double air_half = half_way(0.0, air_mean, air_end);
  const double humidity_half = half_way(0.0, humidity_mean, humidity_end);

  // What the readings' second moments have beyond the parabola's own (Simpson): e = RH p_sat(T) gains
  // p_sat (slope cov(T, RH) + slope^2/2 RH var(T)), which the middle makes good with its weight of 2/3.
  const double both =
      sums_.air_humidity / seconds_ - (4.0 * air_half * humidity_half + air_end * humidity_end) / 6.0;
  const double square = sums_.air_air / seconds_ - (4.0 * air_half * air_half + air_end * air_end) / 6.0;
  const double slope = saturation_slope(begin_.air);
  const double mean = begin_.humidity.value() + humidity_mean;
  const double gain = slope * both + 0.5 * slope * slope * mean * square;

  Surroundings middle = end_;
  middle.air = Celsius{begin_.air.value() + air_half};
  middle.humidity = Humidity{std::clamp(begin_.humidity.value() + humidity_half + 1.5 * gain, 0.0, 1.0)};
  middle.panel_c = half_way(first_panel_.sheet_c, sums_.panel / seconds_, panel_.sheet_c);
  return middle;
}

}  // namespace dryclock::models
