#include "app/publisher.hpp"

#include <algorithm>
#include <cmath>

#include "wire/answer_json.hpp"
#include "wording/spoken.hpp"

namespace dryclock::app {
namespace {

std::string vehicle_json(const VehicleSummary& vehicle) {
  const int percent = static_cast<int>(std::lround(vehicle.release_probability * 100.0));
  return wire::to_json(VehicleNews{vehicle.reference, vehicle.bay, vehicle.hand_over, vehicle.release_ready,
                                   percent, vehicle.release_expected, vehicle.held_by});
}

}  // namespace

void Publisher::tell(const AlertSummary& alert, std::vector<Outgoing>& out) const {
  for (const Channel& channel : channels_) {
    if (alert.level >= channel.least) {
      const auto said = wording::spoken(alert, channel.words);
      out.push_back({channel.name, said.what.words, wire::to_json(said), false});
    }
  }
}

std::vector<Outgoing> Publisher::alerts(const std::vector<AlertRow>& rows, Time now) const {
  std::vector<Outgoing> out;
  for (const AlertRow& row : rows) {
    const bool open = row.step != AlertStep::cleared;
    out.push_back({"mqtt", "alert/" + row.alert.id, open ? wire::to_json(row.alert) : std::string{}, true});
    const auto quiet = quiet_.at(row.alert.raised);
    const bool waits = quiet && quiet->to > now && row.alert.level < AlertLevel::urgent;
    if (row.step == AlertStep::raised && !waits) {
      tell(row.alert, out);
    }
  }
  return out;
}

std::vector<Outgoing> Publisher::after_quiet(const std::vector<AlertSummary>& open, Time now) {
  std::vector<Outgoing> out;
  const auto quiet = quiet_.ended_before(now);
  if (quiet && quiet->to > seen_to_) {
    for (const AlertSummary& alert : open) {
      if (alert.raised >= quiet->from && alert.raised < quiet->to && alert.level < AlertLevel::urgent &&
          !alert.acknowledged) {
        tell(alert, out);
      }
    }
  }
  seen_to_ = std::max(seen_to_, now);
  return out;
}

std::optional<AlertSummary> Publisher::alert_in(const Outgoing& message) {
  auto alert = message.retained ? Result<AlertSummary>{Problem{}} : wire::read_alert(message.payload);
  return alert ? std::optional{std::move(*alert)} : std::nullopt;
}

std::vector<Outgoing> Publisher::vehicles(const std::vector<VehicleSummary>& vehicles) {
  std::map<VehicleId, std::string> now;
  for (const VehicleSummary& vehicle : vehicles) {
    now[vehicle.id] = vehicle.released ? std::string{} : vehicle_json(vehicle);
  }
  for (const auto& [id, payload] : sent_) {
    if (!payload.empty()) {
      now.try_emplace(id);  // it is on the board no more
    }
  }
  std::vector<Outgoing> out;
  for (const auto& [id, payload] : now) {
    const auto last = sent_.find(id);
    if (last == sent_.end() || last->second != payload) {
      out.push_back({"mqtt", "vehicle/" + std::to_string(id), payload, true});
    }
  }
  sent_ = std::move(now);
  return out;
}

std::optional<Outgoing> Publisher::taken_back(Seq event, const std::vector<VehicleSummary>& vehicles) {
  if (std::ranges::find(vehicles, event, &VehicleSummary::id) == vehicles.end()) {
    return std::nullopt;
  }
  sent_.erase(event);
  return Outgoing{"mqtt", "vehicle/" + std::to_string(event), {}, true};
}

}  // namespace dryclock::app
