// What the shop's looks have taught of its film, its hands and its eyes, and its coupons of how water lies:
// one belief for all vehicles, those that have left included, and for the witness plates. A function of what
// was seen and stands, of the coupons, of the air and of what `learnt` rows keep of vehicles that have left;
// worked out only where one of them has changed.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "domain/learnt.hpp"
#include "engine/lesson.hpp"
#include "engine/plate_registry.hpp"
#include "engine/seen.hpp"
#include "engine/shop.hpp"
#include "models/shop_belief.hpp"

namespace dryclock::engine {

// Of the vehicles that have left, the newest pieces count: so many at least, and less than twice as many. By
// then what they have in common is known as well as it will be, and a start has an end.
inline constexpr std::size_t pieces_remembered = 32;

class Lessons {
 public:
  // A row takes the place of one of the same vehicle's from before.
  void add(Seq row, const Learnt& learnt);
  // The same pointer as long as nothing was learnt. Of a vehicle that has left its row counts, before and
  // after a start alike; of any other what its pieces are known to have drunk. See seen_of().
  [[nodiscard]] std::shared_ptr<const models::ShopBelief> belief(const Shop& shop,
                                                                 const PlateRegistry& plates,
                                                                 Millis bridge_after);
  // Films with looks_to_know looks that stand, and those that a plate has made known.
  [[nodiscard]] std::set<std::string> known_films(const Shop& shop, const PlateRegistry& plates) const;
  // What vehicles have taught that have left, and no row tells yet. Of those alone that arrived at
  // `whole_from` or later: of any before, air is missing.
  [[nodiscard]] std::vector<Learnt> due(const Shop& shop, Time whole_from, Millis bridge_after) const;

  // What the belief rests on, since it was last asked for.
  [[nodiscard]] std::vector<const Lesson*> rests_on() const;

 private:
  struct Weighed {
    Lesson lesson;
    models::PieceLikelihood likelihood;
  };
  [[nodiscard]] const Learnt* row_of(const Vehicle& vehicle) const;
  [[nodiscard]] std::vector<Lesson> kept(const Shop& shop) const;
  void follow(std::map<std::string, double> spreads);
  void weigh_kept(std::vector<Lesson> lessons);
  [[nodiscard]] std::vector<Lesson> present(const Shop& shop, const PlateRegistry& plates,
                                            Millis bridge_after) const;
  [[nodiscard]] bool weigh_present(std::vector<Lesson> lessons);
  [[nodiscard]] models::ShopBelief without_looks() const;
  [[nodiscard]] models::PieceLikelihood likelihood(const Lesson& lesson) const;

  std::map<Seq, Learnt> rows_;
  std::map<VehicleId, Seq> row_of_;  // the newest
  std::size_t rows_taken_ = 0;
  std::map<std::string, double> spreads_;
  // Of rows, in their order, as of so many rows and events: of what was learnt the product alone stays.
  std::pair<std::size_t, std::size_t> kept_as_of_;
  std::vector<Lesson> kept_;
  std::shared_ptr<const models::ShopBelief> of_kept_;
  std::map<Seq, Weighed> present_;           // plates too
  std::vector<std::vector<double>> worlds_;  // as FilmMeasures::worlds()
  std::shared_ptr<const models::ShopBelief> belief_;
};

}  // namespace dryclock::engine
