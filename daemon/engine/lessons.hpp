// What the shop's looks have taught of its film, its hands and its eyes: one belief for all vehicles, those
// that have left included, and for the clear plates. A function of the looks that stand and of the air, and
// worked out only where one of them has changed.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "engine/plate_registry.hpp"
#include "engine/shop.hpp"
#include "models/shop_belief.hpp"

namespace dryclock::engine {

class Lessons {
 public:
  // The same pointer as long as nothing was learnt. A look whose minute is not integrated yet counts as one
  // at what is known of the piece, where no more than `bridge_after` lies between.
  [[nodiscard]] std::shared_ptr<const models::ShopBelief> belief(const Shop& shop,
                                                                 const PlateRegistry& plates,
                                                                 Millis bridge_after);
  // Films with looks_to_know looks that stand, and those that a plate has made known.
  [[nodiscard]] static std::set<std::string> known_films(const Shop& shop, const PlateRegistry& plates);

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
  struct PlateLesson {
    models::PieceEvidence seen;
    std::string film;
    models::PieceLikelihood likelihood;
  };
  // Whether they say something else than before.
  [[nodiscard]] bool follow(const PlateRegistry& plates, const models::ShopBelief& nothing);
  [[nodiscard]] static Seen seen_of(const PiecePlan& piece, const PieceTrack& track, Time integrated,
                                    Millis bridge_after);

  std::map<std::string, double> spreads_;
  std::map<PieceId, Lesson> lessons_;
  std::map<Seq, PlateLesson> plates_;
  std::shared_ptr<const models::ShopBelief> belief_;
};

// The last point of a trace at or before so many seconds since lay.
[[nodiscard]] std::size_t point_at(const models::LaidPiece& piece, double seconds);

}  // namespace dryclock::engine
