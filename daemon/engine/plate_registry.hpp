// Clear plates with film on them, looked at as they dry: what the looks say of film and hands, and when the
// next one decides most. What they say is a function of the shop's events that stand, however old; when to
// look, of the bay's air too.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "domain/plate_view.hpp"
#include "engine/bays.hpp"
#include "engine/lesson.hpp"
#include "engine/shop.hpp"
#include "engine/vehicle_track.hpp"
#include "models/shop_belief.hpp"

namespace dryclock::engine {

// The newest plates count. By then what they have in common is known as well as it will be, and a start has
// an end.
inline constexpr std::size_t plates_remembered = 16;

class PlateRegistry {
 public:
  // From the shop's events that stand, and its settings.
  void rebuild(const Shop& shop);
  // Carries the plates that somebody may still look at through the minutes of their bay's air.
  void integrate(Time until, const Bays& bays);
  // From when on air is needed for a plate that is not over at `now`; absent: there is none.
  [[nodiscard]] std::optional<Time> oldest_needed(Time now) const;

  // Where the film over a strip is in its course when somebody looks at it; what is not measured yet is taken
  // to be as it was. Absent: there has been no air since it was laid, or no such strip.
  [[nodiscard]] std::optional<PlateCourse> course(const PlateSeen& seen, Time at, const Bays& bays) const;

  // What was seen at each plate, the newest at the end; plates of which nothing was seen are left out.
  [[nodiscard]] const std::vector<Lesson>& lessons() const { return lessons_; }
  // Of which a plate was seen to its end, or looked at as often as it takes.
  [[nodiscard]] std::set<std::string> known_films() const;

  [[nodiscard]] bool empty() const { return plates_.empty(); }
  // In journal order. A look is asked for where the chance that no more than a tenth of a strip is wet has
  // come to a half; after that was seen, where the chance that none is has.
  [[nodiscard]] std::vector<PlateView> views(Time now,
                                             const std::shared_ptr<const models::ShopBelief>& belief);

 private:
  struct Plate {
    PlateLaid laid;       // with its strips named
    Seq measurement = 0;  // that the film was reckoned with
    VehiclePlan plan;     // of a vehicle that stands in that bay, with the plate for its one piece
    VehicleTrack track;
    std::vector<PlateLook> looks;        // in order of time
    std::map<Seq, PlateCourse> courses;  // of the looks, by event
    std::size_t counted = 0;             // looks that say something
    [[nodiscard]] bool over(Time now) const;
    [[nodiscard]] bool known() const;
    [[nodiscard]] const models::LaidPiece* piece() const;
  };
  // What was worked out last, of which point of its course and with which belief.
  struct Chances {
    double seconds = 0.0;
    std::shared_ptr<const models::ShopBelief> belief;
    std::vector<PlateStrip> strips;
  };
  [[nodiscard]] static Plate laid(const Event& event, const PlateLaid& plate, const Shop& shop);
  [[nodiscard]] static models::PieceEvidence evidence(Plate& plate, Time since);
  // Null where there has been no air.
  [[nodiscard]] const std::vector<PlateStrip>* chances(
      const Plate& plate, const std::shared_ptr<const models::ShopBelief>& belief);

  std::map<Seq, Plate> plates_;
  std::vector<Lesson> lessons_;
  std::map<Seq, Chances> chances_;
};

}  // namespace dryclock::engine
