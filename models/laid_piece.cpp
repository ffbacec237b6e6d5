#include "models/laid_piece.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "models/safe_input.hpp"

namespace dryclock::models {
namespace {

// How much of the ideal open gap a free margin has. Assumption: pressed down, the film leaves a tenth.
constexpr double pressed_openness = 0.1;
constexpr double lifted_openness = 1.0;

constexpr double not_held = std::numeric_limits<double>::quiet_NaN();
constexpr double never_opened = std::numeric_limits<double>::infinity();

constexpr double widest_log_factor = 1.6;

Lanes factors() {
  Lanes factor{};
  for (std::size_t m = 0; m < members; ++m) {
    factor[m] = std::exp(lane_log_factors()[m]);
  }
  return factor;
}

// How far apart points of a trace stand, so long after lay. [s]
double apart(double seconds) {
  constexpr double half_an_hour = 1800.0;
  if (seconds < half_an_hour) return 60.0;
  return seconds < one_day.value() ? 600.0 : half_an_hour;
}

}  // namespace

const Lanes& lane_log_factors() {
  static const Lanes log_factors = [] {
    Lanes made{};
    for (std::size_t m = 0; m < members; ++m) {
      const double share = static_cast<double>(m) / static_cast<double>(members - 1);
      made[m] = widest_log_factor * (2.0 * share - 1.0);
    }
    return made;
  }();
  return log_factors;
}

LaidPiece::LaidPiece(const LaidSpec& spec, const Surroundings& at_lay)
    : spec_(spec), zones_(spec.zones), opened_at_(spec.zones.size(), never_opened) {
  // With alcohol a film drinks otherwise from much than from little.
  const bool alcohol = spec.solution.alcohol_fraction > 0.0;
  struct Of {
    bool stagnant;
    GramsPerSquareMetre usual;
    bool operator==(const Of&) const = default;
  };
  std::vector<Of> made;
  const auto run_for = [&](const Of& of) {
    const auto known = std::ranges::find(made, of);
    const auto run = static_cast<std::size_t>(known - made.begin());
    if (known != made.end()) return run;
    made.push_back(of);
    FilmCourse course({.stack = spec.stack,
                       .panel = spec.panel,
                       .air_layer_coefficient = spec.air_layer_coefficient,
                       .panel_at_lay = spec.panel_at_lay,
                       .stagnant = of.stagnant,
                       .solution = spec.solution,
                       .usual_water = of.usual},
                      factors(), at_lay);
    const auto delays = excess_delays(course.modes());
    runs_.push_back({std::move(course), delays, {}, not_held, 0.0, false});
    runs_.back().trace.add(runs_.back().course.now());
    return run;
  };
  for (LaidZone& zone : zones_) {
    zone.usual = GramsPerSquareMetre{safe_number(zone.usual.value(), 1e-3, 1e4, LaidZone{}.usual.value())};
    run_of_.push_back(
        run_for({zone.kind == ZoneKind::turn, alcohol ? zone.usual : CourseSpec{}.usual_water}));
  }
  if (zones_.empty()) run_for({false, CourseSpec{}.usual_water});
}

bool LaidPiece::Run::as_the_others() const {
  return std::isnan(held_c) && lit_w_m2 == 0.0;
}

Surroundings LaidPiece::Run::over(Surroundings air) const {
  if (!std::isnan(held_c)) air.panel_c = held_c;
  air.absorbed_heat += lit_w_m2;
  return air;
}

void LaidPiece::Run::advance(const Surroundings& from, const Surroundings& to, Seconds duration) {
  if (as_the_others()) {
    course.advance(from, to, duration);
  } else {
    course.advance(over(from), over(to), duration);
  }
}

void LaidPiece::Run::advance(std::span<const Surroundings> points, Seconds spacing) {
  if (as_the_others()) {
    course.advance(points, spacing);
    return;
  }
  std::vector<Surroundings> own;
  for (const Surroundings& air : points) {
    own.push_back(over(air));
  }
  course.advance(own, spacing);
}

void LaidPiece::Run::note() {
  const CoursePoint& now = course.now();
  const std::size_t size = trace.size();
  if (size > 1 && !marked) {
    const double before = trace[size - 2].seconds;
    if (trace[size - 1].seconds - before < apart(before)) {
      trace.replace_last(now);
      return;
    }
  }
  if (now.seconds > trace[size - 1].seconds) trace.add(now);
  marked = false;
}

void LaidPiece::advance(const Surroundings& from, const Surroundings& to, Seconds duration) {
  for (Run& run : runs_) {
    run.advance(from, to, duration);
    run.note();
  }
}

void LaidPiece::advance(std::span<const Surroundings> points, Seconds spacing) {
  if (!(spacing.value() > 0.0) || !std::isfinite(spacing.value())) return;
  while (points.size() > 1) {
    const double intervals = std::clamp(std::floor(apart(seconds()) / spacing.value()), 1.0,
                                        static_cast<double>(points.size() - 1));
    const auto count = static_cast<std::size_t>(intervals);
    for (Run& run : runs_) {
      run.advance(points.first(count + 1), spacing);
      run.note();
    }
    points = points.subspan(count);
  }
}

template <class Change>
void LaidPiece::change(ZoneKind kinds, Change to) {
  const std::size_t before = runs_.size();
  for (std::size_t run = 0; run < before; ++run) {
    bool of_kind = false, of_others = false;
    for (std::size_t z = 0; z < zones_.size(); ++z) {
      if (run_of_[z] == run) (zones_[z].kind == kinds ? of_kind : of_others) = true;
    }
    if (!of_kind) continue;
    std::size_t theirs = run;
    if (of_others) {
      theirs = runs_.size();
      runs_.push_back(Run(runs_[run]));
      for (std::size_t z = 0; z < zones_.size(); ++z) {
        if (run_of_[z] == run && zones_[z].kind == kinds) run_of_[z] = theirs;
      }
    }
    to(runs_[theirs]);
  }
}

void LaidPiece::open_edges() {
  for (std::size_t z = 0; z < zones_.size(); ++z) {
    if (zones_[z].kind == ZoneKind::edge && opened_at_[z] == never_opened)
      opened_at_[z] = runs_[run_of_[z]].course.now().front_squared;
  }
}

void LaidPiece::wrap_edges() {
  change(ZoneKind::edge, [](Run& run) { run.course.turn_behind(); });
}

void LaidPiece::hold(ZoneKind zones, double surface_c) {
  change(zones, [surface_c](Run& run) { run.held_c = std::isfinite(surface_c) ? surface_c : not_held; });
}

void LaidPiece::light(ZoneKind zones, double heat_w_m2) {
  change(zones, [heat_w_m2](Run& run) { run.lit_w_m2 = std::isfinite(heat_w_m2) ? heat_w_m2 : 0.0; });
}

void LaidPiece::mark() {
  for (Run& run : runs_) {
    run.marked = true;
  }
}

double LaidPiece::seconds() const {
  return runs_.front().course.now().seconds;
}

const CourseTrace& LaidPiece::trace(std::size_t zone) const {
  return runs_[run_of_[zone]].trace;
}

const std::array<double, looks_back>& LaidPiece::film_delays(std::size_t zone) const {
  return runs_[run_of_[zone]].film_delays;
}

Margin margin_at_lay(const LaidZone& zone) {
  if (zone.kind != ZoneKind::edge) return {};
  return {.width = safe_number(zone.edge_width.value(), 0.0, 1.0, 0.0),
          .openness = pressed_openness,
          .opened = lifted_openness,
          .opened_at = never_opened};
}

Margin LaidPiece::margin(std::size_t zone) const {
  Margin margin = margin_at_lay(zones_[zone]);
  if (zones_[zone].kind == ZoneKind::edge) margin.opened_at = opened_at_[zone];
  return margin;
}

Celsius LaidPiece::panel() const {
  const auto free = std::ranges::find_if(runs_, [](const Run& run) { return run.as_the_others(); });
  return (free == runs_.end() ? runs_.front() : *free).course.panel();
}

std::uint8_t LaidPiece::validity() const {
  std::uint8_t all = valid;
  for (const Run& run : runs_) {
    all |= run.course.validity();
  }
  return all;
}

bool LaidPiece::operator==(const LaidPiece& other) const {
  const auto same_run = [](const Run& a, const Run& b) {
    return (a.held_c == b.held_c || (std::isnan(a.held_c) && std::isnan(b.held_c))) &&
           a.lit_w_m2 == b.lit_w_m2 && a.trace == b.trace;
  };
  return spec_ == other.spec_ && run_of_ == other.run_of_ && opened_at_ == other.opened_at_ &&
         std::ranges::equal(runs_, other.runs_, same_run);
}

}  // namespace dryclock::models
