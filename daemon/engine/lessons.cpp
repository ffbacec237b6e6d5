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

std::size_t point_at(const models::LaidPiece& piece, double seconds) {
  const auto& trace = piece.trace(0);
  std::size_t low = 0;
  std::size_t high = trace.size();
  while (low + 1 < high) {
    const std::size_t middle = (low + high) / 2;
    (trace[middle].seconds <= seconds ? low : high) = middle;
  }
  return low;
}

Lessons::Seen Lessons::seen_of(const PiecePlan& piece, const PieceTrack& track, Time integrated,
                               Millis bridge_after) {
  Seen seen;
  seen.film = piece.lay.film;
  seen.looks = track.looks;
  for (std::size_t i = track.next_action; i < piece.actions.size(); ++i) {
    const auto& action = piece.actions[i];
    if (action.kind != PieceAction::Kind::inspect || action.at - integrated > bridge_after) {
      continue;
    }
    for (std::size_t zone = 0; zone < piece.spec.zones.size(); ++zone) {
      if (piece.spec.zones[zone].kind == action.zone) {
        seen.looks.push_back({zone, track.piece->seconds(), action.finding});
      }
    }
  }
  if (seen.looks.empty()) {
    return seen;
  }
  seen.zones = track.piece->zones();
  for (const auto& look : seen.looks) {
    const auto& point = track.piece->trace(look.zone)[point_at(*track.piece, look.seconds)];
    seen.course.insert(seen.course.end(), point.drunk.begin(), point.drunk.end());
    seen.course.insert(seen.course.end(), point.film_time.begin(), point.film_time.end());
    seen.course.insert(seen.course.end(), point.clock.begin(), point.clock.end());
    seen.course.push_back(point.front_squared);
  }
  return seen;
}

std::shared_ptr<const models::ShopBelief> Lessons::belief(const Shop& shop, Millis bridge_after) {
  auto spreads = spreads_of(shop);
  bool changed = belief_ == nullptr || spreads != spreads_ || shop.measures().worlds() != worlds_;
  worlds_ = shop.measures().worlds();
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
      if (seen.looks.empty()) {
        continue;
      }
      taught.insert(piece.id);
      const auto known = lessons_.find(piece.id);
      if (known != lessons_.end() && known->second.seen == seen) {
        continue;
      }
      changed = true;
      std::vector<models::Look> looks;
      for (const auto& look : seen.looks) {
        looks.push_back({look.zone, look.seconds, look.finding});
      }
      models::PieceLikelihood likelihood{*track->piece, looks, nothing.levels(seen.film)};
      lessons_.insert_or_assign(piece.id, Lesson{std::move(seen), std::move(likelihood)});
    }
  }
  changed |= std::erase_if(lessons_, [&](const auto& lesson) { return !taught.contains(lesson.first); }) > 0;
  if (changed) {
    models::ShopBelief belief = without_looks(spreads_);
    for (const auto& coupon : worlds_) {
      belief.weigh_worlds(coupon);
    }
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
