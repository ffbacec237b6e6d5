#include "engine/outlook_task.hpp"

#include <algorithm>
#include <utility>

#include "engine/minutes.hpp"
#include "engine/piece_spec.hpp"

namespace dryclock::engine {
namespace {

constexpr Millis forecast_step = std::chrono::minutes{5};

// Its key, where the lay leaves it to the catalogue.
std::string film_of(const Lay& lay, const Catalogue& catalogue) {
  const auto* film = find_film(catalogue, lay.film);
  return film == nullptr ? lay.film : film->key;
}

// What is still to lay, with the film and the solution that were last laid on the vehicle.
std::vector<OutlookTask::ToLay> to_lay(const VehiclePlan& plan, const Shop& shop, Time now) {
  Lay lay;
  if (!plan.pieces.empty()) {
    lay = plan.pieces.back().lay;
    lay.zones.clear();
    lay.wetness = models::Wetness::usual;
  }
  std::vector<OutlookTask::ToLay> out;
  for (const PlannedPiece& piece : plan.to_lay()) {
    lay.panel = piece.panel;
    const auto film = film_of(lay, shop.catalogue());
    const auto key = belief_key(film, shop.measures().event_for(film, lay.lot, now));
    out.push_back({piece, film, laid_spec(lay, now, shop.catalogue(), shop.measures()), key});
  }
  return out;
}

// When the least time indoors will have been kept, if the vehicle stays where it is.
Time earliest_release(const VehiclePlan& plan, Millis least_indoor, Time now) {
  if (!plan.to_lay().empty()) {
    return now + least_indoor;
  }
  const Time last = plan.last_laid.value_or(plan.from);
  return std::max(now, now + least_indoor - indoors(plan, last, now));
}

VehicleTrack held_until(const Vehicle& vehicle, const Bays& bays, Time now) {
  VehicleTrack copy = vehicle.track;
  const Time from = copy.integrated().value_or(vehicle.plan.from);
  const Time until = std::min(ceil_minute(now), from + bays.bridge_after());
  copy.integrate(vehicle.plan, bays, until, VehicleTrack::Beyond::hold);
  return copy;
}

std::vector<OutlookTask::Item> pieces_of(const Vehicle& vehicle, const Known& known, Time now) {
  const auto track = held_until(vehicle, known.bays, now);
  std::vector<OutlookTask::Item> out;
  for (const auto& piece : vehicle.plan.pieces) {
    const auto* at_now = track.piece(piece.id);
    if (piece.ended || at_now == nullptr || !at_now->piece) {
      continue;
    }
    OutlookTask::Item item{.id = piece.id, .film = piece.lay.film, .piece = unheated(*at_now)};
    item.belief_key = piece.belief_key();
    item.needed = piece.needed;
    std::ranges::copy(known.calls.of(piece.id), item.said.begin());
    item.looked_at = piece.looked_at();
    item.condensing = at_now->pace <= 0.0;
    out.push_back(std::move(item));
  }
  return out;
}

}  // namespace

std::optional<OutlookTask> outlook_task(const Vehicle& vehicle, const Known& known, Time now) {
  const auto& plan = vehicle.plan;
  const auto& terms = *vehicle.terms;
  OutlookTask task;
  task.pieces = pieces_of(vehicle, known, now);
  task.to_lay = to_lay(plan, known.shop, now);
  if (task.pieces.empty() && task.to_lay.empty()) {
    return std::nullopt;
  }
  task.vehicle = plan.id;
  task.now = now;
  task.revision = vehicle.revision;
  task.forecast = known.bays.ahead(plan.bay_now(), now, looks_ahead, forecast_step);
  task.step = models::Seconds{std::chrono::duration<double>(forecast_step).count()};
  task.earliest_release = earliest_release(plan, terms.least_indoor, now);
  task.thresholds = terms.thresholds;
  task.least_indoor = terms.least_indoor;
  task.announce_level = terms.announce_level;
  task.hand_over = plan.hand_over;
  task.release_said = known.calls.release_of(plan.id);
  task.belief = known.belief;
  task.known_films = known.films;
  return task;
}

}  // namespace dryclock::engine
