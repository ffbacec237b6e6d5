#include "models/piece.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "models/air_block.hpp"
#include "models/air_layer.hpp"
#include "models/bond.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "models/piece_state.hpp"
#include "models/safe_input.hpp"
#include "models/water_layer.hpp"

namespace dryclock::models {
namespace {

// h_m behind a panel, where a turned edge lies: the air of a cavity. [m/s] Assumption: D over 10 cm of
// stagnant air, 2.5e-5/0.1.
constexpr MetresPerSecond stagnant_air{2.5e-4};
// Length along which moving air has swept the panel before it is over the film. Assumption.
constexpr Metres panel_length{0.5};
// How much of the ideal open gap a free margin has. Assumption: pressed down, the film leaves a tenth.
constexpr double pressed_openness = 0.1;
constexpr double lifted_openness = 1.0;
// How much of the wetness (in variance) all zones of a piece share: one hand, one day. Assumption.
constexpr double shared_wetness = 0.5;

constexpr double longest_step = 600.0;    // s, of one quadrature
constexpr double finest_step = 60.0;      // s
constexpr double change_per_step = 0.5;   // K, of air or panel
constexpr double hottest_routine = 60.0;  // C, of a panel (physics.md: routine cap)
constexpr double dampest_start = 0.8;  // a_out at lay beyond which "initial excess" would be next to nothing

}  // namespace

double Course::share(double x) const {
  const double bend = 2.0 * begin - 4.0 * middle + 2.0 * end;
  const double slope = -3.0 * begin + 4.0 * middle - end;
  const double all = (begin + 4.0 * middle + end) / 6.0;
  return all > 0.0 ? x * (begin + x * (slope / 2.0 + x * bend / 3.0)) / all : x;
}

Instant Piece::State::sense(const Group& group, const Surroundings& air, double panel_c) const {
  const MetresPerSecond air_layer =
      group.stagnant ? stagnant_air : air_layer_coefficient(still_air, air.air_speed, panel_length, air.air);
  return instant(*group.modes, Celsius{panel_c}, air.air, air.humidity, air_layer);
}

void Piece::State::step(const Surroundings& from, const Surroundings& to, double seconds) {
  const Surroundings half = between(from, to, 0.5);
  const double before_c = panel.sheet_c;
  const double half_c = models::advance(panel, panel_thermal, from, half, Seconds{0.5 * seconds}).sheet_c;
  panel = models::advance(panel, panel_thermal, from, to, Seconds{seconds});
  step(from, before_c, half, half_c, to, panel.sheet_c, seconds);
}

// Simpson over three moments; the panel's temperatures beside the air, which may not hold them.
void Piece::State::step(const Surroundings& from, double before_c, const Surroundings& half, double half_c,
                        const Surroundings& to, double after_c, double seconds) {
  const double clock_before = clock;
  bonding = {bond_rate(Celsius{before_c}), bond_rate(Celsius{half_c}), bond_rate(Celsius{after_c})};
  clock += seconds / 6.0 * (bonding.begin + 4.0 * bonding.middle + bonding.end);
  const auto settled = [](const Part& part) { return part.follow == Follow::liquid && part.zone.rests(); };
  double front = 0.0;
  const bool margins =
      std::any_of(parts.begin(), parts.end(), [&](const Part& p) { return p.openness > 0.0 && !settled(p); });
  if (margins) {
    front = seconds / 6.0 *
            (front_rate(Celsius{before_c}, from.air, from.humidity) +
             4.0 * front_rate(Celsius{half_c}, half.air, half.humidity) +
             front_rate(Celsius{after_c}, to.air, to.humidity));
  }

  ThermalStep thermal;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    Group& group = groups[g];
    bool any = false, film = false;
    for (const Part& part : parts) {
      if (part.group != g || settled(part)) continue;
      any = true;
      film = film || part.follow == Follow::film;
    }
    if (!any) continue;
    const Instant begin = sense(group, from, before_c);
    const Instant middle = sense(group, half, half_c);
    const Instant end = sense(group, to, after_c);
    prepare(thermal, *group.modes, factor, begin, middle, end, seconds, film ? Bases::both : Bases::wet);
    if (film) advance_dry_film(*group.modes, thermal, begin.activity - group.now.activity, group.laid_dry);
    group.now = end;
    const auto drying = [](const Instant& now) { return thermal_rate(now, 1.0) * (1.0 - now.activity); };
    group.drying = {drying(begin), drying(middle), drying(end)};
    for (Part& part : parts) {
      if (part.group != g || settled(part)) continue;
      part.zone.advance(*group.modes, thermal, front * part.openness, clock_before, clock, part.follow);
    }
  }
}

void Piece::State::flag_panel(const Surroundings& air) {
  if (panel.sheet_c > hottest_routine) air_validity |= panel_too_hot;
  if (activity_at_panel(Celsius{panel.sheet_c}, air.air, air.humidity) >= 1.0) air_validity |= condensing;
}

Piece::Piece(const PieceSpec& spec, const Thresholds& thresholds, const Surroundings& at_lay)
    : state_(std::make_unique<State>()) {
  State& s = *state_;
  s.thresholds = thresholds;
  s.levels = {.wrap = bond_level(thresholds.wrap_bond, contact_parts),
              .trim = bond_level(thresholds.trim_bond, contact_parts),
              .refit = bond_level(thresholds.refit_bond, contact_parts),
              .release = bond_level(thresholds.release_bond, contact_parts)};
  s.alcohol = safe_number(spec.solution.alcohol_fraction, 0.0, 0.5, 0.0) > 0.0;
  s.panel_thermal = made_safe(spec.panel);
  s.still_air =
      MetresPerSecond{safe_number(spec.air_layer_coefficient, 1e-5, 1.0, PieceSpec{}.air_layer_coefficient)};
  s.air_validity = out_of_range(at_lay);
  const Surroundings air = made_safe(at_lay);
  const double at_lay_c =
      safe_number(spec.panel_at_lay.value(), coldest.value(), hottest.value(), air.air.value());
  const double panel_c = std::isnan(air.panel_c) ? at_lay_c : air.panel_c;
  s.panel = {panel_c, panel_c};

  const std::size_t zones = spec.zones.size();
  const std::vector<Lanes> normals = draw_normals(spec.seed, 2 + zones);
  std::uint8_t film_validity = valid;
  const double spread = clamped(spec.stack, film_validity).ln_resistance_spread;
  s.film_validity = film_validity;
  for (std::size_t m = 0; m < members; ++m) {
    s.factor[m] = std::exp(spread * normals[0][m]);
  }
  s.weights.assign(members, 1.0 / static_cast<double>(members));

  const auto group_for = [&](bool stagnant) {
    for (std::size_t g = 0; g < s.groups.size(); ++g) {
      if (s.groups[g].stagnant == stagnant) return g;
    }
    State::Group group;
    group.stagnant = stagnant;
    group.modes = std::make_shared<FilmModes>(
        film_modes(spec.stack, stagnant ? stagnant_air : s.still_air, Celsius{panel_c}));
    group.now = s.sense(group, air, panel_c);
    s.excess_reference = 1.0 - std::min(group.now.activity, dampest_start);
    s.groups.push_back(std::move(group));
    return s.groups.size() - 1;
  };
  const Thresholds usual;
  const WaterLayer layer(
      GramsPerSquareMetre{safe_number(spec.break_up.value(), 0.0, 100.0, PieceSpec{}.break_up.value())},
      GramsPerSquareMetre{safe_number(thresholds.dry_below.value(), 0.0, 100.0, usual.dry_below.value())});
  for (std::size_t z = 0; z < zones; ++z) {
    const ZoneSpec& zone = spec.zones[z];
    Lanes water{};
    for (std::size_t m = 0; m < members; ++m) {
      const double deviates =
          std::sqrt(shared_wetness) * normals[1][m] + std::sqrt(1.0 - shared_wetness) * normals[2 + z][m];
      water[m] = from_range(zone.water_layer, deviates);
    }
    const bool margin = zone.kind == ZoneKind::edge;
    const std::size_t group = group_for(zone.kind == ZoneKind::turn);
    s.parts.push_back(
        {zone.kind, group,
         Zone(*s.groups[group].modes, layer, water,
              safe_number(spec.solution.alcohol_fraction, 0.0, 0.5, 0.0), s.groups[group].now.activity,
              margin ? safe_number(zone.edge_width.value(), 0.0, 1.0, 0.0) : 0.0),
         margin ? pressed_openness : 0.0});
  }
}

Piece::Piece(const Piece& other) : state_(std::make_unique<State>(*other.state_)) {}
Piece::Piece(Piece&&) noexcept = default;
Piece& Piece::operator=(const Piece& other) {
  if (this != &other) state_ = std::make_unique<State>(*other.state_);
  return *this;
}
Piece& Piece::operator=(Piece&&) noexcept = default;
Piece::~Piece() = default;

void Piece::State::advance_interval(const Surroundings& from, const Surroundings& to, Seconds duration) {
  reached_known = false;
  air_validity = static_cast<std::uint8_t>(out_of_range(from) | out_of_range(to));
  Surroundings start = made_safe(from);
  const Surroundings end = made_safe(to);
  if (std::isnan(start.panel_c)) start.panel_c = panel.sheet_c;
  if (std::isnan(end.panel_c)) start.panel_c = std::numeric_limits<double>::quiet_NaN();

  // Fine enough that neither the air nor the panel moves far within one quadrature.
  const double seconds = duration.value();
  const double end_c = models::advance(panel, panel_thermal, start, end, duration).sheet_c;
  const double moved = std::max({std::abs((end.air - start.air).value()), std::abs(end_c - panel.sheet_c),
                                 20.0 * std::abs((end.humidity - start.humidity).value())});
  const double wanted = std::min(seconds / finest_step, moved / change_per_step);
  const auto steps = static_cast<int>(std::ceil(std::max({1.0, seconds / longest_step, wanted})));
  Surroundings left = start;
  for (int i = 1; i <= steps; ++i) {
    const Surroundings right = between(start, end, static_cast<double>(i) / steps);
    step(left, right, seconds / steps);
    left = right;
  }
  flag_panel(end);
}

std::size_t Piece::State::advance_block(std::span<const Surroundings> points, Seconds spacing,
                                        Seconds longest) {
  AirBlock block(points.front(), panel, panel_thermal, alcohol ? std::min(longest, panel_step) : longest);
  const std::size_t taken = block.gather(points, spacing);
  if (taken < 2) return 0;
  const Surroundings half = block.middle();
  const double before_c = std::isnan(points.front().panel_c) ? panel.sheet_c : points.front().panel_c;
  panel = block.panel();
  step(block.begin(), before_c, half, half.panel_c, block.end(), panel.sheet_c, block.duration().value());
  reached_known = false;
  air_validity = valid;
  flag_panel(block.end());
  return taken;
}

void Piece::advance(const Surroundings& from, const Surroundings& to, Seconds duration) {
  if (!(duration.value() > 0.0) || !std::isfinite(duration.value())) return;
  state_->advance_interval(from, to, duration);
}

void Piece::advance(std::span<const Surroundings> points, Seconds spacing) {
  if (!(spacing.value() > 0.0) || !std::isfinite(spacing.value())) return;
  while (points.size() > 1) {
    std::size_t taken = state_->advance_block(points, spacing, longest_block);
    if (taken == 0) {
      state_->advance_interval(points[0], points[1], spacing);
      taken = 1;
    }
    points = points.subspan(taken);
  }
}

void Piece::open_edges() {
  for (State::Part& part : state_->parts) {
    if (part.openness > 0.0) part.openness = lifted_openness;
  }
}

void Piece::inspect(std::size_t zone, Finding finding) {
  State& s = *state_;
  if (zone >= s.parts.size()) return;
  const Lanes water = s.parts[zone].zone.water();
  const Lanes bond = s.bond(s.parts[zone]);
  Lanes seen{};
  for (std::size_t m = 0; m < members; ++m) {
    seen[m] = likelihood(finding, water[m], bond[m]);
  }
  reweigh(s.weights, seen);
}

void Piece::wrap_edges() {
  State& s = *state_;
  for (State::Part& part : s.parts) {
    if (part.kind != ZoneKind::edge || s.groups[part.group].stagnant) continue;
    part.openness = 0.0;
    // The field goes on in the modes it is in: they see the stagnant air as another activity outside, see
    // film_modes.hpp.
    const std::shared_ptr<const FilmModes>& modes = s.groups[part.group].modes;
    const auto same = std::find_if(s.groups.begin(), s.groups.end(),
                                   [&](const State::Group& g) { return g.stagnant && g.modes == modes; });
    if (same == s.groups.end()) {
      State::Group turned = s.groups[part.group];
      turned.stagnant = true;
      part.group = s.groups.size();
      s.groups.push_back(std::move(turned));
    } else {
      part.group = static_cast<std::size_t>(same - s.groups.begin());
    }
  }
}

const std::vector<double>& Piece::weights() const {
  return state_->weights;
}

}  // namespace dryclock::models
