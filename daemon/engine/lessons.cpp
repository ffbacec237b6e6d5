#include "engine/lessons.hpp"

#include <algorithm>
#include <utility>

#include "domain/outlook.hpp"

namespace dryclock::engine {
namespace {

// How well each film's resistance is known: by the catalogue, or by what was measured.
std::map<std::string, double> spreads_of(const Shop& shop) {
  std::map<std::string, double> spreads;
  for (const FilmEntry& film : shop.catalogue().films) {
    spreads[film.key] = film.stack.ln_resistance_spread;
  }
  for (const auto& [seq, at, measured] : shop.measures().all()) {
    spreads[belief_key(measured.film, seq)] = std::max(least_measured_spread, measured.relative_uncertainty);
  }
  return spreads;
}

Lesson lesson_of(const LearntPiece& piece, const Shop& shop) {
  Lesson lesson{piece.piece, piece.film, piece.measurement, {}, evidence_of(piece, shop)};
  for (const auto& zone : piece.zones) {
    lesson.kinds.push_back(zone.kind);
  }
  return lesson;
}

bool says_nothing(const Lesson& lesson) {
  return std::ranges::all_of(lesson.evidence.zones, [](const auto& zone) { return zone.seen.empty(); });
}

// Whether anything was done or seen that the row does not know.
bool went_on(const Vehicle& vehicle, Seq after) {
  return std::ranges::any_of(vehicle.plan.pieces, [&](const PiecePlan& piece) {
    return std::ranges::any_of(piece.actions, [&](const PieceAction& one) { return one.event > after; });
  });
}

Seq newest_event(const VehiclePlan& plan) {
  Seq newest = plan.release_event;
  for (const auto& piece : plan.pieces) {
    for (const auto& action : piece.actions) {
      newest = std::max(newest, action.event);
    }
  }
  return newest;
}

}  // namespace

void Lessons::add(Seq row, const Learnt& learnt) {
  const auto [known, first] = row_of_.try_emplace(learnt.vehicle, row);
  if (!first) {
    rows_.erase(std::exchange(known->second, row));
  }
  rows_.emplace(row, learnt);
  ++rows_taken_;
}

// Null: none counts. One counts as long as the vehicle is gone by the release that it was written after.
const Learnt* Lessons::row_of(const Vehicle& vehicle) const {
  const auto known = row_of_.find(vehicle.plan.id);
  if (known == row_of_.end() || !vehicle.plan.valid || !vehicle.plan.released) {
    return nullptr;
  }
  const auto& row = rows_.at(known->second);
  return row.release == vehicle.plan.release_event ? &row : nullptr;
}

// In the rows' order.
std::vector<Lesson> Lessons::kept(const Shop& shop) const {
  std::vector<Lesson> out;
  for (const auto& [seq, learnt] : rows_) {
    const auto* vehicle = shop.vehicle(learnt.vehicle);
    if (vehicle != nullptr && row_of(*vehicle) != &learnt) {
      continue;
    }
    for (const auto& piece : learnt.pieces) {
      if (auto lesson = lesson_of(piece, shop); !says_nothing(lesson)) {
        out.push_back(std::move(lesson));
      }
    }
  }
  if (const std::size_t blocks = out.size() / pieces_remembered; blocks > 1) {
    out.erase(out.begin(), out.begin() + static_cast<std::ptrdiff_t>((blocks - 1) * pieces_remembered));
  }
  return out;
}

models::ShopBelief Lessons::without_looks() const {
  models::ShopBelief belief{models::ShopLevels{}};
  for (const auto& [key, spread] : spreads_) {
    belief.set_spread(key, spread);
  }
  return belief;
}

models::PieceLikelihood Lessons::likelihood(const Lesson& lesson) const {
  return {lesson.evidence, without_looks().levels(belief_key(lesson.film, lesson.measurement))};
}

// What was learnt before stays where more has come behind it.
void Lessons::weigh_kept(std::vector<Lesson> lessons) {
  const bool goes_on = of_kept_ != nullptr && kept_.size() <= lessons.size() &&
                       std::equal(kept_.begin(), kept_.end(), lessons.begin());
  if (goes_on && kept_.size() == lessons.size()) {
    return;
  }
  auto belief = goes_on ? *of_kept_ : without_looks();
  for (std::size_t i = goes_on ? kept_.size() : 0; i < lessons.size(); ++i) {
    belief.learn(belief_key(lessons[i].film, lessons[i].measurement), likelihood(lessons[i]).nodes());
  }
  kept_ = std::move(lessons);
  of_kept_ = std::make_shared<const models::ShopBelief>(std::move(belief));
}

// Of whatever no row speaks of.
std::vector<Lesson> Lessons::present(const Shop& shop, const PlateRegistry& plates,
                                     Millis bridge_after) const {
  auto out = plates.lessons();
  for (const auto& [id, vehicle] : shop.vehicles()) {
    if (!vehicle.track.integrated() || row_of(vehicle) != nullptr) {
      continue;
    }
    for (const auto& piece : seen_of(vehicle, shop, bridge_after)) {
      out.push_back(lesson_of(piece, shop));
    }
  }
  std::erase_if(out, says_nothing);
  return out;
}

// Whether anything has changed.
bool Lessons::weigh_present(std::vector<Lesson> lessons) {
  bool changed = false;
  std::set<Seq> taught;
  for (auto& lesson : lessons) {
    taught.insert(lesson.piece);
    const auto known = present_.find(lesson.piece);
    if (known != present_.end() && known->second.lesson == lesson) {
      continue;
    }
    changed = true;
    const Seq piece = lesson.piece;
    auto weighed = likelihood(lesson);
    present_.insert_or_assign(piece, Weighed{std::move(lesson), std::move(weighed)});
  }
  changed |= std::erase_if(present_, [&](const auto& one) { return !taught.contains(one.first); }) > 0;
  return changed;
}

// A film more leaves what is known of the others as it is.
void Lessons::follow(std::map<std::string, double> spreads) {
  const bool others_stay = std::ranges::all_of(spreads_, [&](const auto& known) {
    const auto now = spreads.find(known.first);
    return now != spreads.end() && now->second == known.second;
  });
  spreads_ = std::move(spreads);
  belief_.reset();
  if (!others_stay || of_kept_ == nullptr) {
    of_kept_.reset();
    present_.clear();
    return;
  }
  auto belief = *of_kept_;
  for (const auto& [key, spread] : spreads_) {
    belief.set_spread(key, spread);
  }
  of_kept_ = std::make_shared<const models::ShopBelief>(std::move(belief));
}

std::shared_ptr<const models::ShopBelief> Lessons::belief(const Shop& shop, const PlateRegistry& plates,
                                                          Millis bridge_after) {
  if (auto spreads = spreads_of(shop); spreads != spreads_) {
    follow(std::move(spreads));
  }
  const auto before = of_kept_;
  if (const std::pair now{rows_taken_, shop.events_taken()}; of_kept_ == nullptr || kept_as_of_ != now) {
    weigh_kept(kept(shop));
    kept_as_of_ = now;
  }
  bool changed = weigh_present(present(shop, plates, bridge_after));
  changed |= worlds_ != shop.measures().worlds();
  if (belief_ == nullptr || of_kept_ != before || changed) {
    worlds_ = shop.measures().worlds();
    models::ShopBelief belief = *of_kept_;
    for (const auto& coupon : worlds_) {
      belief.weigh_worlds(coupon);
    }
    for (const auto& [piece, weighed] : present_) {
      belief.learn(belief_key(weighed.lesson.film, weighed.lesson.measurement), weighed.likelihood.nodes());
    }
    belief_ = std::make_shared<const models::ShopBelief>(std::move(belief));
  }
  return belief_;
}

std::vector<const Lesson*> Lessons::rests_on() const {
  std::vector<const Lesson*> out;
  for (const auto& lesson : kept_) {
    out.push_back(&lesson);
  }
  for (const auto& [piece, weighed] : present_) {
    out.push_back(&weighed.lesson);
  }
  return out;
}

std::set<std::string> Lessons::known_films(const Shop& shop, const PlateRegistry& plates) const {
  std::map<std::string, std::set<Seq>> looks;
  for (const auto& [id, vehicle] : shop.vehicles()) {
    for (const auto& piece : vehicle.plan.pieces) {
      for (const auto& action : piece.actions) {
        if (action.kind == PieceAction::Kind::inspect && action.at >= shop.learns_since()) {
          looks[piece.lay.film].insert(action.event);
        }
      }
    }
  }
  for (const auto& [row, learnt] : rows_) {
    for (const auto& piece : learnt.pieces) {
      for (const auto& zone : piece.zones) {
        for (const auto& one : zone.seen) {
          const bool by_eye = models::sort_of(one.seen.sign) == models::SignSort::eye;
          if (by_eye && shop.vehicle(learnt.vehicle) == nullptr && one.at >= shop.learns_since()) {
            looks[piece.film].insert(one.event);
          }
        }
      }
    }
  }
  std::set<std::string> known = plates.known_films();
  for (const auto& [film, events] : looks) {
    if (events.size() >= looks_to_know) {
      known.insert(film);
    }
  }
  return known;
}

std::vector<Learnt> Lessons::due(const Shop& shop, Time whole_from, Millis bridge_after) const {
  std::vector<Learnt> out;
  for (const auto& [id, vehicle] : shop.vehicles()) {
    const auto& plan = vehicle.plan;
    const auto integrated = vehicle.track.integrated();
    if (!plan.valid || !plan.ended || plan.from < whole_from || !integrated || *integrated < *plan.ended) {
      continue;
    }
    if (const auto* row = row_of(vehicle); row != nullptr && !went_on(vehicle, row->after)) {
      continue;
    }
    if (auto pieces = seen_of(vehicle, shop, bridge_after); !pieces.empty()) {
      out.push_back({id, *integrated, plan.release_event, newest_event(plan), std::move(pieces)});
    }
  }
  return out;
}

}  // namespace dryclock::engine
