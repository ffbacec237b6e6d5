// What has been said of each milestone: worth a look, or ready. It follows from rows alone, in their order:
// from `announced` rows, which tell what an outlook had judged, and from what people saw. Nothing is judged
// here, so a replay says what was said.
//
// A look that finds the film clear in the zones that a step asks about settles that step. One that finds it
// wet, hazy or lifting takes back at once what it speaks against, whoever had said it.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <vector>

#include "domain/announced.hpp"
#include "domain/effects.hpp"
#include "domain/outlook.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

class Calls {
 public:
  // What was said, with the chance that it was said with.
  struct Known : Said {
    double probability = 0.0;
    // When it was last entered that somebody saw otherwise.
    std::optional<Time> refuted{};
    // And when that was seen.
    std::optional<Time> seen{};
  };
  using Milestones = std::array<Known, models::milestone_kinds>;

  void add(Seq row, const Announced& announced);
  // The vehicle's rows are read again; what has changed since is appended. Taken back: at `now`.
  void follow(VehicleId vehicle, const Shop& shop, Time now, std::vector<MilestoneRow>& milestones,
              std::vector<ReleaseRow>& releases);

  [[nodiscard]] const Milestones& of(PieceId piece) const;
  [[nodiscard]] const Said& release_of(VehicleId vehicle) const;

  // Of what an answer would say: what is not said yet, and rests on nothing older than what was seen. The
  // vehicle is integrated up to `integrated`.
  [[nodiscard]] std::vector<Announcement> news(const OutlookAnswer& answer,
                                               std::optional<Time> integrated) const;

 private:
  struct Vehicle {
    std::map<PieceId, Milestones> pieces;
    Known release;
  };
  class Reader;
  [[nodiscard]] const Known* find(const Vehicle& vehicle, const Announcement& announcement) const;

  std::map<VehicleId, std::map<Seq, Announced>> rows_;
  std::map<VehicleId, Vehicle> vehicles_;
  std::map<PieceId, VehicleId> owner_;
};

}  // namespace dryclock::engine
