#include "engine/lessons.hpp"

#include <algorithm>
#include <utility>

#include "domain/outlook.hpp"
#include "engine/piece_spec.hpp"

namespace dryclock::engine {

namespace {

// How well each film's resistance is known: by the catalogue, or by what was measured of any roll of it.
std::map<std::string, double> spreads_of(const Shop& shop) {
  std::map<std::string, double> spreads;
  for (const FilmEntry& film : shop.catalogue().films) {
    spreads[film.key] = film.stack.ln_resistance_spread;
  }
  for (const auto& [seq, at, measured] : shop.measures().all()) {
    if (measured.lot.empty()) {
      spreads[measured.film] = std::max(least_measured_spread, measured.relative_uncertainty);
    }
  }
  return spreads;
}

models::ShopBelief without_looks(const std::map<std::string, double>& spreads) {
  models::ShopBelief belief{models::ShopLevels{}};
  for (const auto& [film, spread] : spreads) {
    belief.set_spread(film, spread);
  }
  return belief;
}

}  // namespace

Lessons::Seen Lessons::seen_of(const PiecePlan& piece, const PieceTrack& track, Time integrated,
                               Millis bridge_after) {
  std::vector<ZoneLook> all = track.looks;
  for (std::size_t i = track.next_action; i < piece.actions.size(); ++i) {
    const auto& action = piece.actions[i];
    if (action.kind == PieceAction::Kind::inspect && action.at - integrated <= bridge_after) {
      look_at(piece, action, track.piece->seconds(), all);
    }
  }
  std::vector<models::Look> looks;
  for (const auto& one : all) {
    looks.push_back(one.look);
  }
  return {piece.lay.film, models::evidence(*track.piece, looks)};
}

std::shared_ptr<const models::ShopBelief> Lessons::belief(const Shop& shop, Millis bridge_after) {
  auto spreads = spreads_of(shop);
  bool changed = belief_ == nullptr || spreads != spreads_;
  if (spreads != spreads_) {
    lessons_.clear();
    spreads_ = spreads;
  }
  const auto nothing = without_looks(spreads_);
  std::set<PieceId> taught;
  for (const auto& [id, vehicle] : shop.vehicles()) {
    for (const auto& piece : vehicle.plan.pieces) {
      const auto* track = vehicle.track.piece(piece.id);
      if (!piece.looked_at() || track == nullptr || !track->piece) {
        continue;
      }
      Seen seen = seen_of(piece, *track, *vehicle.track.integrated(), bridge_after);
      if (std::ranges::all_of(seen.evidence.zones, [](const auto& zone) { return zone.seen.empty(); })) {
        continue;
      }
      taught.insert(piece.id);
      const auto known = lessons_.find(piece.id);
      if (known != lessons_.end() && known->second.seen == seen) {
        continue;
      }
      changed = true;
      models::PieceLikelihood likelihood{seen.evidence, nothing.levels(seen.film)};
      lessons_.insert_or_assign(piece.id, Lesson{std::move(seen), std::move(likelihood)});
    }
  }
  changed |= std::erase_if(lessons_, [&](const auto& lesson) { return !taught.contains(lesson.first); }) > 0;
  if (changed) {
    models::ShopBelief belief = without_looks(spreads_);
    for (const auto& [piece, lesson] : lessons_) {
      belief.learn(lesson.seen.film, lesson.likelihood.nodes());
    }
    belief_ = std::make_shared<const models::ShopBelief>(std::move(belief));
  }
  return belief_;
}

std::set<std::string> Lessons::known_films(const Shop& shop) {
  std::map<std::string, int> looks;
  for (const auto& [id, vehicle] : shop.vehicles()) {
    for (const auto& piece : vehicle.plan.pieces) {
      looks[piece.lay.film] +=
          static_cast<int>(std::ranges::count(piece.actions, PieceAction::Kind::inspect, &PieceAction::kind));
    }
  }
  std::set<std::string> known;
  for (const auto& [film, count] : looks) {
    if (count >= looks_to_know) {
      known.insert(film);
    }
  }
  return known;
}

}  // namespace dryclock::engine
