// Every event that was entered, the vehicles they speak of, and how far each vehicle has been integrated.
//
// One path for all: an event changes the vehicle's plan; if it happened after what is already integrated, the
// integration goes on; if it happened before (entered late, or an earlier one superseded), what it concerns
// is integrated again over the stored minutes.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "domain/setup.hpp"
#include "engine/bays.hpp"
#include "engine/film_measures.hpp"
#include "engine/vehicle_plan.hpp"
#include "engine/vehicle_track.hpp"

namespace dryclock::engine {

// What a vehicle's events are read with.
struct Terms {
  Catalogue catalogue;  // with what earlier settings knew, marked as gone
  models::PanelThermal slowest_panel;
  models::Thresholds thresholds;
  double announce_level = 0.90;
  Millis least_indoor{};
};

struct Vehicle {
  std::shared_ptr<const Terms> terms;  // the newest, until it is released: then they stay
  VehiclePlan plan;
  VehicleTrack track;
  Seq revision = 0;  // the last row that touched it
};

class Shop {
 public:
  explicit Shop(const Setup& setup);

  // Settings count from here on: what is open is estimated again with them, by their row `seq`.
  struct Changed {
    std::set<std::string> films, solutions, panels;  // whose figures changed, of the pieces below
    bool water = false;                              // how much the squeegee leaves
    bool slowest_panel = false;                      // the one that stands for a vehicle as a whole
    bool readiness = false;                          // what counts as ready
    std::size_t pieces = 0;                          // estimated anew, of those that are still on
    std::vector<std::string> vehicles;               // that they are on: references
  };
  Changed configure(const Setup& setup, Seq seq, const Bays& bays);

  // The vehicle it touched is integrated again to where it was, if need be, before this returns.
  void apply(const Event& event, const Bays& bays);
  void integrate(Time until, const Bays& bays);

  [[nodiscard]] const std::map<VehicleId, Vehicle>& vehicles() const { return vehicles_; }
  [[nodiscard]] const Vehicle* vehicle(VehicleId id) const;
  // Vehicle of a piece that was laid, superseded or not; null where no such piece is known.
  [[nodiscard]] const Vehicle* vehicle_of(PieceId piece) const;
  [[nodiscard]] const PiecePlan* piece(PieceId id) const;  // null where it does not stand
  [[nodiscard]] const Event* event(Seq seq) const;
  [[nodiscard]] bool superseded(Seq seq) const { return superseded_.contains(seq); }
  // In journal order, superseded ones included; 0: of all vehicles.
  [[nodiscard]] std::vector<Event> events(VehicleId vehicle) const;
  // Arrival of the oldest vehicle whose past is still needed; absent where the shop is empty.
  [[nodiscard]] std::optional<Time> oldest_needed() const;

  // Neither released nor void.
  [[nodiscard]] static bool is_open(const Vehicle& vehicle);
  // Whether an open vehicle is in that bay now.
  [[nodiscard]] bool stands_in(const std::string& bay) const;
  // Open, or released less than a day ago: still of interest on the board.
  [[nodiscard]] static bool is_shown(const Vehicle& vehicle, Time now);
  [[nodiscard]] const Catalogue& catalogue() const { return terms_->catalogue; }

  // The vehicle that an event speaks of; 0: none that is known.
  [[nodiscard]] VehicleId vehicle_of(const Event& event) const;
  // The vehicle's events that stand, in order of the time they happened.
  [[nodiscard]] std::vector<Event> standing(VehicleId vehicle) const;
  // Those that concern the shop itself and stand, in journal order.
  [[nodiscard]] std::vector<Event> of_the_shop() const;
  [[nodiscard]] const FilmMeasures& measures() const { return measures_; }
  // How many events it has taken: as long as it is the same, what they say is.
  [[nodiscard]] std::size_t events_taken() const { return events_taken_; }
  // What was seen before it counts no more.
  [[nodiscard]] Time learns_since() const { return learns_since_; }

 private:
  struct Change;
  void add_change(const Event& event, Change& change) const;
  void supersede_again();
  void measure_again(Seq seq, const Bays& bays);
  void learn_anew_again();
  static void integrate_again(Vehicle& vehicle, const Change& change, const Bays& bays);
  [[nodiscard]] Event complete(Event event) const;

  std::shared_ptr<const Terms> terms_;
  FilmMeasures measures_;
  Time learns_since_ = Time::min();
  std::size_t events_taken_ = 0;
  std::map<Seq, Event> events_;
  std::map<Seq, VehicleId> owner_;  // of each event
  std::set<Seq> superseded_;
  std::map<VehicleId, Vehicle> vehicles_;
};

}  // namespace dryclock::engine
