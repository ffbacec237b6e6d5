// What the shop's looks have taught of its film, its hands and its eyes, and its coupons of how water lies:
// one belief for all vehicles, those that have left included. A function of the looks and coupons that stand
// and of the air, and worked out only where one of them has changed.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "engine/shop.hpp"
#include "models/shop_belief.hpp"

namespace dryclock::engine {

class Lessons {
 public:
  // The same pointer as long as nothing was learnt. A look whose minute is not integrated yet counts as one
  // at what is known of the piece, where no more than `bridge_after` lies between.
  [[nodiscard]] std::shared_ptr<const models::ShopBelief> belief(const Shop& shop, Millis bridge_after);
  // Films with looks_to_know looks that stand.
  [[nodiscard]] static std::set<std::string> known_films(const Shop& shop);

 private:
  // What a piece's likelihood follows from.
  struct Seen {
    std::string film;
    std::vector<models::LaidZone> zones;
    std::vector<ZoneLook> looks;
    std::vector<double> course;  // up to each look
    bool operator==(const Seen&) const = default;
  };
  struct Lesson {
    Seen seen;
    models::PieceLikelihood likelihood;
  };
  [[nodiscard]] static Seen seen_of(const PiecePlan& piece, const PieceTrack& track, Time integrated,
                                    Millis bridge_after);

  std::map<std::string, double> spreads_;
  std::vector<std::vector<double>> worlds_;  // as FilmMeasures::worlds()
  std::map<PieceId, Lesson> lessons_;
  std::shared_ptr<const models::ShopBelief> belief_;
};

// The last point of a trace at or before so many seconds since lay.
[[nodiscard]] std::size_t point_at(const models::LaidPiece& piece, double seconds);

}  // namespace dryclock::engine
