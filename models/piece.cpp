#include "models/piece.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/air_block.hpp"
#include "models/air_layer.hpp"
#include "models/bond.hpp"
#include "models/film_modes.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "models/panel_heat.hpp"
#include "models/safe_input.hpp"
#include "models/thermal_step.hpp"
#include "models/water_layer.hpp"
#include "models/zone.hpp"

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

// Whether bit k is set.
bool bit_set(std::uint8_t bits, std::size_t k) {
  return (static_cast<unsigned>(bits) >> k & 1U) != 0;
}

}  // namespace

struct Piece::State {
  // Zones under the same air layer share their modes and steps.
  struct Group {
    std::shared_ptr<const FilmModes> modes;
    bool stagnant = false;
    Instant now;
  };
  struct Part {
    ZoneKind kind;
    std::size_t group;
    Zone zone;
    double openness;  // of the free margin; 0: none
  };

  Thresholds thresholds;
  PanelThermal panel_thermal;
  MetresPerSecond still_air;  // h_m of the open bay

  std::vector<Group> groups;
  std::vector<Part> parts;
  Lanes factor{};  // members' film resistance against the stack's
  Weights weights;

  PanelState panel;
  bool alcohol = false;           // the liquid's activity rises as it leaves, in a step of its own each time
  double clock = 0.0;             // bond clock, s at 23 C
  double excess_reference = 1.0;  // g/m2 per unit inner_content: 1 - a_out at lay
  std::uint8_t film_validity = valid;
  std::uint8_t air_validity = valid;

  mutable std::vector<std::uint8_t> reached;
  mutable bool reached_known = false;

  [[nodiscard]] const FilmModes& modes_of(const Part& part) const { return *groups[part.group].modes; }
  [[nodiscard]] Instant sense(const Group& group, const Surroundings& air, double panel_c) const {
    const MetresPerSecond air_layer =
        group.stagnant ? stagnant_air
                       : air_layer_coefficient(still_air, air.air_speed, panel_length, air.air);
    return instant(*group.modes, Celsius{panel_c}, air.air, air.humidity, air_layer);
  }
  [[nodiscard]] Lanes excess(const Part& part) const;
  [[nodiscard]] Lanes bond(const Part& part) const;
  void step(const Surroundings& from, const Surroundings& to, double seconds);
  void step(const Surroundings& from, double before_c, const Surroundings& half, double half_c,
            const Surroundings& to, double after_c, double seconds);
  void flag_panel(const Surroundings& air);
  void judge() const;
  [[nodiscard]] bool concerns(Milestone milestone, ZoneKind kind) const;
  [[nodiscard]] std::size_t limiting_zone(Milestone milestone, const std::vector<ZoneView>& zones) const;
};

// [0..1]
Lanes Piece::State::excess(const Part& part) const {
  const FilmModes& modes = modes_of(part);
  Lanes share = part.zone.excess(modes);
  for (double& value : share) {
    value = std::clamp(value / (excess_reference * modes.inner_content), 0.0, 1.0);
  }
  return share;
}

Lanes Piece::State::bond(const Part& part) const {
  Lanes bond{};
  for (std::size_t m = 0; m < members; ++m) {
    bond[m] = part.zone.bond(clock, m);
  }
  return bond;
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
  clock += seconds / 6.0 *
           (bond_rate(Celsius{before_c}) + 4.0 * bond_rate(Celsius{half_c}) + bond_rate(Celsius{after_c}));
  double front = 0.0;
  const bool margins =
      std::any_of(parts.begin(), parts.end(), [](const Part& p) { return p.openness > 0.0; });
  if (margins) {
    front = seconds / 6.0 *
            (front_rate(Celsius{before_c}, from.air, from.humidity) +
             4.0 * front_rate(Celsius{half_c}, half.air, half.humidity) +
             front_rate(Celsius{after_c}, to.air, to.humidity));
  }

  ThermalStep thermal;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    Group& group = groups[g];
    const Instant begin = sense(group, from, before_c);
    const Instant end = sense(group, to, after_c);
    prepare(thermal, *group.modes, factor, begin, sense(group, half, half_c), end, seconds);
    group.now = end;
    for (Part& part : parts) {
      if (part.group != g) continue;
      part.zone.advance(*group.modes, thermal, front * part.openness, clock_before, clock);
    }
  }
}

void Piece::State::flag_panel(const Surroundings& air) {
  if (panel.sheet_c > hottest_routine) air_validity |= panel_too_hot;
  if (activity_at_panel(Celsius{panel.sheet_c}, air.air, air.humidity) >= 1.0) air_validity |= condensing;
}

void Piece::State::judge() const {
  reached.assign(members, 0);
  const auto set = [&](Milestone milestone, std::size_t m) {
    reached[m] = static_cast<std::uint8_t>(reached[m] | (1U << static_cast<unsigned>(milestone)));
  };
  const bool field =
      std::any_of(parts.begin(), parts.end(), [](const Part& p) { return p.kind == ZoneKind::field; });

  // Liquid and film first; the logarithms of the bond only for members that passed.
  std::array<bool, members> wrap{};
  wrap.fill(true);
  std::array<bool, members> trim = wrap, all = wrap;
  for (const Part& part : parts) {
    const std::array<bool, members> dry = part.zone.dry();
    const bool is_edge = concerns(Milestone::trim_ready, part.kind);
    const Lanes left = is_edge ? excess(part) : Lanes{};
    for (std::size_t m = 0; m < members; ++m) {
      all[m] = all[m] && dry[m];
      wrap[m] = wrap[m] && (!is_edge || (dry[m] && left[m] < thresholds.wrap_excess));
      trim[m] = trim[m] && (!is_edge || (dry[m] && left[m] < thresholds.trim_excess));
    }
  }
  std::array<bool, members> refit = all;
  for (const Part& part : parts) {
    const bool is_edge = concerns(Milestone::trim_ready, part.kind);
    const bool holds = part.kind == ZoneKind::field || !field;
    for (std::size_t m = 0; m < members; ++m) {
      const bool asked = (holds && wrap[m]) || (is_edge && trim[m]) || refit[m];
      if (!asked) continue;
      const double bond = part.zone.bond(clock, m);
      wrap[m] = wrap[m] && (!holds || bond >= thresholds.wrap_bond);
      trim[m] = trim[m] && (!is_edge || bond >= thresholds.trim_bond);
      refit[m] = refit[m] && bond >= thresholds.refit_bond;
      all[m] = all[m] && bond >= thresholds.release_bond;
    }
  }
  for (std::size_t m = 0; m < members; ++m) {
    if (wrap[m]) set(Milestone::wrap_ready, m);
    if (trim[m]) set(Milestone::trim_ready, m);
    if (refit[m]) set(Milestone::refit_ready, m);
    if (all[m] && refit[m]) set(Milestone::dry, m);
  }
  reached_known = true;
}

// Whether a zone of this kind is looked at for the milestone.
bool Piece::State::concerns(Milestone milestone, ZoneKind kind) const {
  if (milestone == Milestone::refit_ready || milestone == Milestone::dry) return true;
  const bool edges =
      std::any_of(parts.begin(), parts.end(), [](const Part& p) { return p.kind == ZoneKind::edge; });
  return !edges || kind == ZoneKind::edge || (milestone == Milestone::wrap_ready && kind == ZoneKind::field);
}

// The zone with the most standard hours to go; where all are dry, the one with the least bond.
std::size_t Piece::State::limiting_zone(Milestone milestone, const std::vector<ZoneView>& zones) const {
  std::size_t worst = zones.size();
  for (std::size_t z = 0; z < zones.size(); ++z) {
    if (!concerns(milestone, zones[z].kind)) continue;
    if (worst == zones.size()) {
      worst = z;
      continue;
    }
    const double longer = zones[z].hours_to_go.likely - zones[worst].hours_to_go.likely;
    if (longer > 0.0 || (longer == 0.0 && zones[z].bond.likely < zones[worst].bond.likely)) worst = z;
  }
  return worst == zones.size() ? 0 : worst;
}

Piece::Piece(const PieceSpec& spec, const Thresholds& thresholds, const Surroundings& at_lay)
    : state_(std::make_unique<State>()) {
  State& s = *state_;
  s.thresholds = thresholds;
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
    group.modes = std::make_shared<FilmModes>(film_modes(spec.stack, stagnant ? stagnant_air : s.still_air));
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

void Piece::advance(const Surroundings& from, const Surroundings& to, Seconds duration) {
  State& s = *state_;
  if (!(duration.value() > 0.0) || !std::isfinite(duration.value())) return;
  s.reached_known = false;
  s.air_validity = static_cast<std::uint8_t>(out_of_range(from) | out_of_range(to));
  Surroundings start = made_safe(from);
  const Surroundings end = made_safe(to);
  if (std::isnan(start.panel_c)) start.panel_c = s.panel.sheet_c;
  if (std::isnan(end.panel_c)) start.panel_c = std::numeric_limits<double>::quiet_NaN();

  // Fine enough that neither the air nor the panel moves far within one quadrature.
  const double seconds = duration.value();
  const double end_c = models::advance(s.panel, s.panel_thermal, start, end, duration).sheet_c;
  const double moved = std::max({std::abs((end.air - start.air).value()), std::abs(end_c - s.panel.sheet_c),
                                 20.0 * std::abs((end.humidity - start.humidity).value())});
  const double wanted = std::min(seconds / finest_step, moved / change_per_step);
  const auto steps = static_cast<int>(std::ceil(std::max({1.0, seconds / longest_step, wanted})));
  Surroundings left = start;
  for (int i = 1; i <= steps; ++i) {
    const Surroundings right = between(start, end, static_cast<double>(i) / steps);
    s.step(left, right, seconds / steps);
    left = right;
  }
  s.flag_panel(end);
}

void Piece::advance(std::span<const Surroundings> points, Seconds spacing) {
  State& s = *state_;
  if (!(spacing.value() > 0.0) || !std::isfinite(spacing.value())) return;
  while (points.size() > 1) {
    AirBlock block(points.front(), s.panel, s.panel_thermal, s.alcohol ? panel_step : longest_block);
    const std::size_t taken = block.gather(points, spacing);
    if (taken < 2) {
      advance(points[0], points[1], spacing);
      points = points.subspan(1);
      continue;
    }
    const Surroundings half = block.middle();
    const double before_c = std::isnan(points.front().panel_c) ? s.panel.sheet_c : points.front().panel_c;
    s.panel = block.panel();
    s.step(block.begin(), before_c, half, half.panel_c, block.end(), s.panel.sheet_c,
           block.duration().value());
    s.reached_known = false;
    s.air_validity = valid;
    s.flag_panel(block.end());
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
    // The field goes on in the modes it is in: only the share of the air layer in their shape is no longer
    // its own, which moves the film's storage by a tenth at most.
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

PieceView Piece::view() const {
  const State& s = *state_;
  PieceView view;
  view.panel = Celsius{s.panel.sheet_c};
  view.validity = static_cast<std::uint8_t>(s.film_validity | s.air_validity);

  for (const State::Part& part : s.parts) {
    const FilmModes& modes = s.modes_of(part);
    ZoneView zone;
    zone.kind = part.kind;
    zone.water = weighted_quantiles(part.zone.water(), s.weights);
    zone.excess = weighted_quantiles(s.excess(part), s.weights);
    zone.bond = weighted_quantiles(s.bond(part), s.weights);
    zone.hours_to_go =
        weighted_quantiles(part.zone.standard_hours(modes, s.factor, part.openness), s.weights);
    const std::array<bool, members> dry = part.zone.dry();
    for (std::size_t m = 0; m < members; ++m) {
      zone.dry_probability += dry[m] ? s.weights[m] : 0.0;
    }
    zone.validity = view.validity;
    view.zones.push_back(zone);
  }

  const std::vector<std::uint8_t>& bits = reached();
  for (std::size_t k = 0; k < milestone_kinds; ++k) {
    for (std::size_t m = 0; m < members; ++m) {
      view.probability[k] += bit_set(bits[m], k) ? s.weights[m] : 0.0;
    }
    view.limiting_zone[k] = s.limiting_zone(static_cast<Milestone>(k), view.zones);
  }
  return view;
}

const std::vector<std::uint8_t>& Piece::reached() const {
  if (!state_->reached_known) state_->judge();
  return state_->reached;
}

const std::vector<double>& Piece::weights() const {
  return state_->weights;
}

}  // namespace dryclock::models
