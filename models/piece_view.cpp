// What a piece shows: water, excess and bond of its zones, and the milestones its members have reached.
#include <algorithm>
#include <array>

#include "models/piece_state.hpp"

namespace dryclock::models {
namespace {

// So that a loop over members has no branch.
constexpr unsigned bit(bool truth) {
  return static_cast<unsigned>(truth);
}

// Whether bit k is set.
bool bit_set(std::uint8_t bits, std::size_t k) {
  return (static_cast<unsigned>(bits) >> k & 1U) != 0;
}

}  // namespace

// What the liquid has left in the film: beyond the same film laid dry, in the same air. [0..1]
Lanes Piece::State::excess(const Part& part) const {
  const FilmModes& modes = modes_of(part);
  Lanes share = part.zone.excess(modes);
  Lanes laid_dry{};
  add_dry_columns(modes, groups[part.group].laid_dry, laid_dry);
  for (std::size_t m = 0; m < members; ++m) {
    share[m] = std::clamp((share[m] - laid_dry[m]) / (excess_reference * modes.inner_content), 0.0, 1.0);
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

void Piece::State::judge() const {
  std::array<std::array<std::uint8_t, members>, milestone_kinds> met{};
  for (auto& lanes : met) {
    lanes.fill(1);
  }
  for (const Part& part : parts) {
    const std::array<bool, members> dry = part.zone.dry();
    const Lanes product = part.zone.bond_product(clock);
    const bool film = concerns(Milestone::trim_ready, part.kind) && part.follow == Follow::film &&
                      std::find(dry.begin(), dry.end(), true) != dry.end();
    const Lanes left = film ? excess(part) : Lanes{};
    for (std::size_t k = 0; k < milestone_kinds; ++k) {
      const Asked asks = asked(static_cast<Milestone>(k), part.kind);
      for (std::size_t m = 0; m < members; ++m) {
        const unsigned enough =
            (bit(!asks.dry) | bit(dry[m])) & bit(left[m] < asks.excess) & bit(product[m] >= asks.bond);
        met[k][m] = static_cast<std::uint8_t>(met[k][m] & enough);
      }
    }
  }
  reached.resize(members);
  for (std::size_t m = 0; m < members; ++m) {
    unsigned bits = 0;
    for (std::size_t k = 0; k < milestone_kinds; ++k) {
      bits |= static_cast<unsigned>(met[k][m]) << k;
    }
    reached[m] = static_cast<std::uint8_t>(bits);
  }
  reached_known = true;
}

// Without edges the other zones are looked at instead; without a field, the edges hold.
Asked Piece::State::asked(Milestone milestone, ZoneKind kind) const {
  const bool edge = concerns(Milestone::trim_ready, kind);
  const bool holds = kind == ZoneKind::field || !has(ZoneKind::field);
  Asked asks;
  switch (milestone) {
    case Milestone::wrap_ready:
      asks.dry = edge;
      if (edge) asks.excess = thresholds.wrap_excess;
      if (holds) asks.bond = levels.wrap;
      break;
    case Milestone::trim_ready:
      asks.dry = edge;
      if (edge) asks.excess = thresholds.trim_excess;
      if (edge) asks.bond = levels.trim;
      break;
    case Milestone::refit_ready:
      asks.dry = true;
      asks.bond = levels.refit;
      break;
    case Milestone::dry:
      asks.dry = true;
      asks.bond = std::max(levels.refit, levels.release);
      break;
  }
  return asks;
}

bool Piece::State::has(ZoneKind kind) const {
  return std::any_of(parts.begin(), parts.end(), [&](const Part& p) { return p.kind == kind; });
}

// Whether a zone of this kind is looked at for the milestone.
bool Piece::State::concerns(Milestone milestone, ZoneKind kind) const {
  if (milestone == Milestone::refit_ready || milestone == Milestone::dry) return true;
  return !has(ZoneKind::edge) || kind == ZoneKind::edge ||
         (milestone == Milestone::wrap_ready && kind == ZoneKind::field);
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

PieceView Piece::view() const {
  const State& s = *state_;
  PieceView view;
  view.panel = Celsius{s.steps.panel_c()};
  view.validity = static_cast<std::uint8_t>(s.film_validity | s.steps.validity());

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

}  // namespace dryclock::models
