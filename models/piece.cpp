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

// How much of the ideal open gap a free margin has. Assumption: pressed down, the film leaves a tenth.
constexpr double pressed_openness = 0.1;
constexpr double lifted_openness = 1.0;
// How much of the wetness (in variance) all zones of a piece share: one hand, one day. Assumption.
constexpr double shared_wetness = 0.5;

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
      group.stagnant ? stagnant_air : over_film(still_air, air.air_speed, air.air);
  return instant(*group.modes, Celsius{panel_c}, air.air, air.humidity, air_layer);
}

void Piece::State::step(const AirStep& at) {
  const double clock_before = clock;
  bonding = {bond_rate(Celsius{at.begin_c}), bond_rate(Celsius{at.middle_c}), bond_rate(Celsius{at.end_c})};
  clock += at.seconds / 6.0 * (bonding.begin + 4.0 * bonding.middle + bonding.end);
  const auto settled = [](const Part& part) { return part.follow == Follow::liquid && part.zone.rests(); };
  double front = 0.0;
  const bool margins =
      std::any_of(parts.begin(), parts.end(), [&](const Part& p) { return p.openness > 0.0 && !settled(p); });
  if (margins) {
    front = at.seconds / 6.0 *
            (front_rate(Celsius{at.begin_c}, at.begin.air, at.begin.humidity) +
             4.0 * front_rate(Celsius{at.middle_c}, at.middle.air, at.middle.humidity) +
             front_rate(Celsius{at.end_c}, at.end.air, at.end.humidity));
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
    const Instant begin = sense(group, at.begin, at.begin_c);
    const Instant middle = sense(group, at.middle, at.middle_c);
    const Instant end = sense(group, at.end, at.end_c);
    prepare(thermal, *group.modes, factor, begin, middle, end, at.seconds, film ? Bases::both : Bases::wet);
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

Piece::Piece(const PieceSpec& spec, const Thresholds& thresholds, const Surroundings& at_lay)
    : state_(std::make_unique<State>(AirSteps(spec.panel, spec.panel_at_lay, at_lay))) {
  State& s = *state_;
  s.thresholds = thresholds;
  s.levels = {.wrap = bond_level(thresholds.wrap_bond, contact_parts),
              .trim = bond_level(thresholds.trim_bond, contact_parts),
              .refit = bond_level(thresholds.refit_bond, contact_parts),
              .release = bond_level(thresholds.release_bond, contact_parts)};
  s.alcohol = safe_number(spec.solution.alcohol_fraction, 0.0, 0.5, 0.0) > 0.0;
  s.still_air =
      MetresPerSecond{safe_number(spec.air_layer_coefficient, 1e-5, 1.0, PieceSpec{}.air_layer_coefficient)};
  const Surroundings air = made_safe(at_lay);
  const double panel_c = s.steps.panel_c();

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
  steps.interval(from, to, duration, [this](const AirStep& air_step) { step(air_step); });
}

Seconds Piece::State::block_length(Seconds longest) const {
  return alcohol ? std::min(longest, panel_step) : longest;
}

std::size_t Piece::State::advance_block(std::span<const Surroundings> points, Seconds spacing,
                                        Seconds longest) {
  const std::size_t taken = steps.block(points, spacing, block_length(longest),
                                        [this](const AirStep& air_step) { step(air_step); });
  if (taken > 0) reached_known = false;
  return taken;
}

void Piece::advance(const Surroundings& from, const Surroundings& to, Seconds duration) {
  if (!(duration.value() > 0.0) || !std::isfinite(duration.value())) return;
  state_->advance_interval(from, to, duration);
}

void Piece::advance(std::span<const Surroundings> points, Seconds spacing) {
  if (!(spacing.value() > 0.0) || !std::isfinite(spacing.value())) return;
  State& s = *state_;
  s.reached_known = false;
  s.steps.through(points, spacing, s.block_length(longest_block), [&s](const AirStep& at) { s.step(at); });
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
