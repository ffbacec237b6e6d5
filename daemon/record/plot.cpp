#include "record/plot.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::record {
namespace {

constexpr Font tiny{6.5, false, 0.0};
constexpr Font title_font{7.5, true, 0.0};
constexpr double axis_room = 26.0, time_room = 13.0, title_room = 12.0, mark_room = 9.0;

// 1, 2 or 5 times a power of ten: at most so many steps over the range.
double nice_step(double range, double most) {
  const double rough = range / most;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= rough * (1.0 - 1e-9)) {
      return factor * power;
    }
  }
  return 10.0 * power;
}

struct Axis {
  double low = 0.0, high = 1.0;
  std::vector<double> ticks;
  int decimals = 0;
};

Axis axis_of(const Plot& plot, double height) {
  double low = HUGE_VAL, high = -HUGE_VAL;
  const auto widen = [&](double value) {
    if (std::isfinite(value)) {
      low = std::min(low, value);
      high = std::max(high, value);
    }
  };
  for (const auto& line : plot.lines) {
    for (const auto& sample : line.samples) {
      widen(sample.value);
    }
  }
  for (const auto& sample : plot.band) {
    widen(sample.low);
    widen(sample.high);
  }
  low = std::min(plot.lowest.value_or(low), low);
  high = std::max(plot.highest.value_or(high), high);
  if (!(low <= high)) {
    low = 0.0;
    high = 1.0;
  }
  Axis axis;
  if (plot.scale == Scale::root) {
    axis.high = std::max(high, 1.0);
    for (const double tick : {0.0, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0}) {
      const double last = axis.ticks.empty() ? -HUGE_VAL : std::sqrt(axis.ticks.back() / axis.high) * height;
      if (tick <= axis.high && std::sqrt(tick / axis.high) * height - last > tiny.size + 1.0) {
        axis.ticks.push_back(tick);
      }
    }
    return axis;
  }
  const double step = nice_step(std::max(high - low, 1e-6), std::max(2.0, height / 16.0));
  axis.low = std::floor(low / step + 1e-9) * step;
  axis.high = std::max(std::ceil(high / step - 1e-9) * step, axis.low + step);
  if (axis.high - high < 0.1 * step) {
    axis.high += step;  // or the line would lie on the frame
  }
  axis.decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  const auto count = static_cast<std::size_t>(std::lround((axis.high - axis.low) / step)) + 1;
  for (std::size_t i = 0; i < count; ++i) {
    axis.ticks.push_back(axis.low + step * static_cast<double>(i));
  }
  return axis;
}

// Where values and times stand on the page.
struct Frame {
  Rect in;
  Axis axis;
  Scale scale;
  Time from, to;

  [[nodiscard]] double x(Time t) const {
    return in.x + in.width * std::clamp(seconds_between(from, t) / seconds_between(from, to), 0.0, 1.0);
  }
  [[nodiscard]] double y(double value) const {
    double share = std::clamp((value - axis.low) / (axis.high - axis.low), 0.0, 1.0);
    share = scale == Scale::root ? std::sqrt(share) : share;
    return in.y + in.height * (1.0 - share);
  }
};

struct Tick {
  Time at;
  bool day = false;
};

// Whole local hours, counted from each day's start: so that days of 23 and 25 hours have theirs too.
std::vector<Tick> time_ticks(const Frame& frame, const LocalZone& zone) {
  constexpr double least_apart = 33.0;
  const double points_an_hour = frame.in.width / (seconds_between(frame.from, frame.to) / 3600.0);
  int hours = 24 * 28;
  for (const int step : {1, 2, 3, 6, 12, 24, 48, 24 * 7}) {
    if (step * points_an_hour >= least_apart) {
      hours = step;
      break;
    }
  }
  std::vector<Tick> out;
  int day_number = 0;
  for (Time day = zone.day_start(frame.from); day <= frame.to; day = zone.next_day_start(day), ++day_number) {
    if (hours > 24 && day_number % (hours / 24) != 0) {
      continue;
    }
    const Time next = zone.next_day_start(day);
    for (Time t = day; t < next; t += std::chrono::hours{std::min(hours, 24)}) {
      // On a day of 25 hours the last tick would stand on the next day's first.
      if (t >= frame.from && t <= frame.to && next - t > std::chrono::hours{std::min(hours, 24)} / 2) {
        out.push_back({t, t == day});
      }
    }
  }
  return out;
}

void draw_time_axis(Canvas& canvas, const Frame& frame, const LocalZone& zone) {
  const double bottom = frame.in.y + frame.in.height;
  for (const auto& tick : time_ticks(frame, zone)) {
    const double x = frame.x(tick.at);
    const auto text = zone.date_clock(tick.at);
    // "2026-03-01 07:40": at a day's start the date, else the clock.
    const auto label = tick.day ? text.substr(5, 5) : text.substr(11);
    const Font font{tiny.size, tick.day, 0.0};
    canvas.line({x, frame.in.y}, {x, bottom}, {tick.day ? 0.5 : 0.25, tick.day ? 0.55 : 0.8, Dash::solid});
    canvas.text({x - canvas.text_width(label, font) / 2.0, bottom + 8.5}, label, font);
  }
}

void draw_value_axis(Canvas& canvas, const Frame& frame, const wording::Words& words) {
  for (const double tick : frame.axis.ticks) {
    const double y = frame.y(tick);
    const auto label = words.fixed(tick, frame.axis.decimals);
    canvas.line({frame.in.x, y}, {frame.in.x + frame.in.width, y}, {0.25, 0.8, Dash::solid});
    canvas.text({frame.in.x - 3.0 - canvas.text_width(label, tiny), y + tiny.size * 0.35}, label, tiny);
  }
}

void draw_band(Canvas& canvas, const Frame& frame, const std::vector<BandSample>& band) {
  std::vector<Point> outline;
  outline.reserve(2 * band.size());
  for (const auto& sample : band) {
    outline.push_back({frame.x(sample.at), frame.y(sample.high)});
  }
  for (std::size_t i = band.size(); i-- > 0;) {
    outline.push_back({frame.x(band[i].at), frame.y(band[i].low)});
  }
  if (band.size() > 1) {
    canvas.area(outline, 0.86);
    canvas.path(outline, {0.25, 0.5, Dash::solid});
  }
}

// One point for each third of a point of paper is as fine as anyone can see.
void draw_line(Canvas& canvas, const Frame& frame, const Line& line) {
  constexpr double fine = 0.33;
  std::vector<Point> points;
  const auto flush = [&] {
    if (points.size() > 1) {
      canvas.path(points, {0.9, 0.0, line.dash});
    }
    points.clear();
  };
  for (const auto& sample : line.samples) {
    if (!std::isfinite(sample.value)) {
      flush();
      continue;
    }
    const Point point{frame.x(sample.at), frame.y(sample.value)};
    if (points.empty() || point.x - points.back().x >= fine || &sample == &line.samples.back()) {
      points.push_back(point);
    }
  }
  flush();
}

// Numbers that would run into each other stand as one: "3-7", "3,5".
void draw_marks(Canvas& canvas, const Frame& frame, const std::vector<Mark>& marks) {
  constexpr double apart = 3.0;
  const double top = frame.in.y - 2.0;
  for (const auto& mark : marks) {
    const double x = frame.x(mark.at);
    canvas.line({x, frame.in.y - 1.0}, {x, frame.in.y + frame.in.height}, {0.5, 0.0, Dash::dotted});
  }
  double free_from = -HUGE_VAL;
  for (std::size_t first = 0; first < marks.size();) {
    const auto label_of = [&](std::size_t last) {
      auto text = std::to_string(marks[first].number);
      const auto count = static_cast<int>(last - first);
      if (count > 1 && marks[last].number == marks[first].number + count) {
        return text + "-" + std::to_string(marks[last].number);
      }
      for (std::size_t i = first + 1; i <= last; ++i) {
        text += "," + std::to_string(marks[i].number);
      }
      return text;
    };
    std::size_t last = first;
    const double x = std::max(frame.x(marks[first].at), free_from);
    while (last + 1 < marks.size() &&
           frame.x(marks[last + 1].at) < x + canvas.text_width(label_of(last), tiny) + apart) {
      ++last;
    }
    const auto label = label_of(last);
    const double last_place = frame.in.x + frame.in.width - canvas.text_width(label, tiny);
    canvas.text({std::min(x, std::max(last_place, free_from)), top}, label, tiny);
    free_from = x + canvas.text_width(label, tiny) + apart;
    first = last + 1;
  }
}

void draw_legend(Canvas& canvas, Rect where, const Plot& plot) {
  canvas.text({where.x, where.y + 8.0}, plot.title, title_font);
  if (plot.lines.size() < 2) {
    return;
  }
  double x = where.x + canvas.text_width(plot.title, title_font) + 14.0;
  for (const auto& line : plot.lines) {
    constexpr double sample = 22.0;
    canvas.line({x, where.y + 5.5}, {x + sample, where.y + 5.5}, {0.9, 0.0, line.dash});
    canvas.text({x + sample + 3.0, where.y + 8.0}, line.name, tiny);
    x += sample + canvas.text_width(line.name, tiny) + 12.0;
  }
}

}  // namespace

void draw(Canvas& canvas, Rect where, const Plot& plot, const wording::Words& words) {
  const double above = title_room + mark_room;
  const Rect in{where.x + axis_room, where.y + above, where.width - axis_room - 6.0,
                where.height - above - time_room};
  const Frame frame{in, axis_of(plot, in.height), plot.scale, plot.from, plot.to};
  draw_legend(canvas, where, plot);
  draw_value_axis(canvas, frame, words);
  if (frame.from < frame.to) {
    draw_time_axis(canvas, frame, words.zone());
    canvas.clip(in);
    draw_band(canvas, frame, plot.band);
    for (const auto& hole : plot.holes) {
      const double x = frame.x(hole.from);
      canvas.hatch({x, in.y, std::max(1.0, frame.x(hole.to) - x), in.height});
    }
    for (const auto& line : plot.lines) {
      draw_line(canvas, frame, line);
    }
    canvas.release();
    draw_marks(canvas, frame, plot.marks);
  }
  canvas.frame(in, {0.5, 0.0, Dash::solid});
}

}  // namespace dryclock::record
