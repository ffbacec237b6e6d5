// The engine: journal rows in, effects out. No I/O, no thread, no clock: time is what rows and advance()
// tell. Its state after row n is a function of rows 1..n and of the minutes that have passed, bit for bit,
// however they were cut into calls. Owned by the core thread.
#pragma once

#include <memory>
#include <vector>

#include "domain/effects.hpp"
#include "domain/event.hpp"
#include "domain/outlook.hpp"
#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "models/catalogue.hpp"

namespace dryclock::engine {

class Engine {
 public:
  explicit Engine(Setup setup);
  ~Engine();

  // Alerts that were open just before the first row to come; call before it.
  void seed_alerts(std::vector<AlertSummary> open);

  // Whether an event could be applied now, with what is wrong where it could not ("no vehicle 12").
  [[nodiscard]] Result<void> check(const Event& event) const;

  // Time moves to the row's time first (never backwards), then the row is applied.
  Effects apply(const JournalRow& row, const Decoded& decoded);
  // Time passes without a row: silence, dwell and dryness are functions of it.
  Effects advance(Time now);

  [[nodiscard]] Board board() const;
  // One minute points of a bay's air, as far back as any piece still needs them.
  [[nodiscard]] std::vector<AirPoint> air(const std::string& bay, Time from, Time to) const;
  // What a piece held from lay to now, a point every ten minutes, integrated anew from the bay's minutes.
  // Problem: no such piece.
  [[nodiscard]] Result<std::vector<HistoryPoint>> history(PieceId piece) const;
  // Applied events of a vehicle (all where 0), superseded ones included.
  [[nodiscard]] std::vector<Event> events(VehicleId vehicle) const;

  [[nodiscard]] std::vector<OutlookTask> outlook_tasks() const;
  void take(const OutlookAnswer& answer);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::engine
