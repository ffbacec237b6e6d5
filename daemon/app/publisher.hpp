// What leaves the house: turns alerts and vehicles into messages for the outbox. The outbox delivers them.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/quiet_hours.hpp"
#include "domain/effects.hpp"
#include "domain/view.hpp"
#include "wording/words.hpp"

namespace dryclock::app {

class Publisher {
 public:
  // A way out, and the words that are spoken there.
  struct Channel {
    std::string name;
    AlertLevel least = AlertLevel::warning;
    wording::Words words;
  };
  Publisher(std::vector<Channel> channels, QuietTimes quiet)
      : channels_(std::move(channels)), quiet_(quiet) {}

  // <base>/alert/<id>, retained: raised sets it, in the words that it has; cleared empties it. The configured
  // channels get what was raised at their level or above, in their own words; what was raised in quiet hours
  // that last at `now` and is not urgent waits for after_quiet().
  [[nodiscard]] std::vector<Outgoing> alerts(const std::vector<AlertRow>& rows, Time now) const;
  // What waited for quiet hours that have ended since the last call, and is still open and not acknowledged.
  [[nodiscard]] std::vector<Outgoing> after_quiet(const std::vector<AlertSummary>& open, Time now);
  // The alert that a channel's message tells of: its id, rule and subject. Absent: it is of none, or states
  // on MQTT what is so.
  [[nodiscard]] static std::optional<AlertSummary> alert_in(const Outgoing& message);
  // Quiet hours that ended before `t` have been seen to, by an earlier run of the daemon.
  void seen_to(Time t) { seen_to_ = t; }
  // <base>/vehicle/<number>, retained, in the words that they have: those whose message differs from the one
  // sent last; empty once the vehicle is released, or has left the board. What an earlier run has
  // sent is not known: after a start all are told, the empty ones too.
  [[nodiscard]] std::vector<Outgoing> vehicles(const std::vector<VehicleSummary>& vehicles);
  // The empty one where the event that is taken back is the arrival of one of these (a vehicle has its row's
  // number): to be written with the row that says so, for after a start nothing tells that it ever was.
  [[nodiscard]] std::optional<Outgoing> taken_back(Seq event, const std::vector<VehicleSummary>& vehicles);

 private:
  void tell(const AlertSummary& alert, std::vector<Outgoing>& out) const;

  std::vector<Channel> channels_;
  QuietTimes quiet_;
  Time seen_to_{};
  std::map<VehicleId, std::string> sent_;  // what stands on MQTT
};

}  // namespace dryclock::app
