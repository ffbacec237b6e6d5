#include "http/fake_drying.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "domain/names.hpp"

namespace dryclock::fake {

using models::Milestone;
using models::ZoneKind;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

double water_at_lay(ZoneKind kind) {
  return kind == ZoneKind::recess ? 30.0 : kind == ZoneKind::edge ? 8.0 : 5.0;
}
// Hours until a zone of this kind is dry, in this shop's straight-line world: 1 g/m2 leaves in an hour.
double hours_to_dry(ZoneKind kind, double hours_gone) {
  return std::max(0.0, water_at_lay(kind) - hours_gone);
}

}  // namespace

models::ZoneView zone_after(ZoneKind kind, double hours_gone) {
  const double left = hours_to_dry(kind, hours_gone);
  models::ZoneView zone;
  zone.kind = kind;
  zone.water = {left * 0.6, left, left * 1.6};
  zone.excess = {0.0, std::min(1.0, left / 5), std::min(1.0, left / 3)};
  const double bond = left > 0 ? 0.0 : std::min(1.0, 0.5 + hours_gone / 48);
  zone.bond = {bond * 0.9, bond, std::min(1.0, bond * 1.1)};
  zone.hours_to_go = {left * 0.7, left, left * 1.5};
  zone.dry_probability = left > 0 ? 0.05 : 0.95;
  return zone;
}

void bring_up_to(PieceSummary& piece, Time now) {
  const double gone = seconds_between(piece.laid, now) / 3600;
  piece.as_of = now;
  piece.standard_hours = gone * 0.8;
  piece.state.panel = models::Celsius{19.5};
  for (auto& zone : piece.state.zones) {
    zone = zone_after(zone.kind, gone);
  }
  for (std::size_t i = 0; i < models::milestone_kinds; ++i) {
    auto& milestone = piece.milestones[i];
    milestone.which = static_cast<Milestone>(i);
    // The slowest zone, and for later steps a longer wait.
    double needs = 2.0 * static_cast<double>(i);
    std::size_t slowest = 0;
    for (std::size_t z = 0; z < piece.state.zones.size(); ++z) {
      const auto kind = piece.state.zones[z].kind;
      const bool asked = milestone.which == Milestone::dry || kind == ZoneKind::edge;
      if (asked && water_at_lay(kind) + 2.0 * static_cast<double>(i) > needs) {
        needs = water_at_lay(kind) + 2.0 * static_cast<double>(i);
        slowest = z;
      }
    }
    piece.state.limiting_zone[i] = slowest;
    const auto due = piece.laid + minutes{static_cast<long>(needs * 60)};
    milestone.probability = now >= due ? 0.95 : 0.1;
    piece.state.probability[i] = milestone.probability;
    if (now >= due) {
      milestone.announced = due;
      milestone.expected = {};
      milestone.held_by.clear();
    } else {
      milestone.announced.reset();
      milestone.expected = {now + (due - now) * 7 / 10, due, now + (due - now) * 15 / 10};
      const auto& zone = piece.state.zones[slowest];
      milestone.held_by = zone.water.likely > 0
                              ? fmt::format("{}: {:.0f} g/m2 left, {:.1f} standard hours to go",
                                            name_of(zone.kind), zone.water.likely, zone.hours_to_go.likely)
                              : fmt::format("{}: bond {:.2f}", name_of(zone.kind), zone.bond.likely);
    }
  }
}

void bring_up_to(VehicleSummary& vehicle, Time now) {
  std::optional<Time> ready;
  for (auto& piece : vehicle.pieces) {
    if (!piece.removed && !piece.replaced_by) {
      bring_up_to(piece, now);
      const auto& dry = piece.milestones[static_cast<std::size_t>(Milestone::dry)];
      const Time due =
          std::max(dry.announced.value_or(dry.expected.likely.value_or(now)), piece.laid + hours{24});
      if (!ready || due > *ready) {
        ready = due;
        vehicle.held_by = fmt::format("{}, {}", piece.panel, dry.held_by);
      }
    }
  }
  vehicle.release_expected = {};
  vehicle.release_ready.reset();
  vehicle.release_probability = 0.0;
  if (ready && *ready <= now) {
    vehicle.release_ready = ready;
    vehicle.release_probability = 0.95;
    vehicle.held_by.clear();
  } else if (ready) {
    vehicle.release_expected = {now + (*ready - now) * 8 / 10, *ready, now + (*ready - now) * 14 / 10};
    vehicle.release_probability = 0.02;
  }
  vehicle.hand_over_probability =
      vehicle.hand_over && ready ? (*ready < *vehicle.hand_over ? 0.9 : 0.2) : 0.0;
}

}  // namespace dryclock::fake
