#include "app/publisher.hpp"

#include <algorithm>
#include <boost/json.hpp>
#include <cmath>

#include "base/temperature_words.hpp"
#include "domain/names.hpp"

namespace dryclock::app {
namespace {

namespace json = boost::json;

json::value time_or_null(const std::optional<Time>& t) {
  return t ? json::value(to_rfc3339(*t)) : json::value(nullptr);
}

std::string alert_json(const AlertSummary& alert) {
  return json::serialize(json::object{{"id", alert.id},
                                      {"rule", name_of(alert.rule)},
                                      {"subject", alert.subject},
                                      {"level", name_of(alert.level)},
                                      {"raised", to_rfc3339(alert.raised)},
                                      {"acknowledged", time_or_null(alert.acknowledged)},
                                      {"text", alert.text},
                                      {"advice", alert.advice}});
}

AlertSummary in_shop_unit(AlertSummary alert, bool fahrenheit) {
  if (fahrenheit) {
    alert.text = in_fahrenheit(alert.text);
    alert.advice = in_fahrenheit(alert.advice);
  }
  return alert;
}

std::string vehicle_json(const VehicleSummary& vehicle) {
  // Two decimals: a probability that creeps is not news.
  const auto percent = [](double probability) { return std::lround(probability * 100.0); };
  return json::serialize(json::object{{"reference", vehicle.reference},
                                      {"bay", vehicle.bay},
                                      {"hand_over", time_or_null(vehicle.hand_over)},
                                      {"release_ready", time_or_null(vehicle.release_ready)},
                                      {"release_percent", percent(vehicle.release_probability)},
                                      {"early", time_or_null(vehicle.release_expected.early)},
                                      {"likely", time_or_null(vehicle.release_expected.likely)},
                                      {"late", time_or_null(vehicle.release_expected.late)},
                                      {"held_by", vehicle.held_by}});
}

}  // namespace

void Publisher::tell(const AlertSummary& alert, std::vector<Outgoing>& out) const {
  const auto shown = in_shop_unit(alert, fahrenheit_);
  for (const NotifyChannel& channel : channels_) {
    if (alert.level >= channel.least) {
      out.push_back({channel.name, shown.text, alert_json(shown), false});
    }
  }
}

std::vector<Outgoing> Publisher::alerts(const std::vector<AlertRow>& rows, Time now) const {
  std::vector<Outgoing> out;
  for (const AlertRow& row : rows) {
    const bool open = row.step != AlertStep::cleared;
    out.push_back({"mqtt", "alert/" + row.alert.id,
                   open ? alert_json(in_shop_unit(row.alert, fahrenheit_)) : std::string{}, true});
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
  boost::system::error_code wrong;
  const auto parsed = json::parse(message.payload, wrong);
  const auto* object = message.retained || wrong ? nullptr : parsed.if_object();
  const auto text = [&](const char* name) {
    const auto* value = object == nullptr ? nullptr : object->if_contains(name);
    return value != nullptr && value->is_string() ? std::string{value->get_string()} : std::string{};
  };
  const auto rule = from_name<AlertRule>(text("rule"));
  if (!rule) {
    return std::nullopt;
  }
  AlertSummary alert;
  alert.id = text("id");
  alert.rule = *rule;
  alert.subject = text("subject");
  return alert;
}

std::vector<Outgoing> Publisher::vehicles(const std::vector<VehicleSummary>& vehicles) {
  std::vector<Outgoing> out;
  for (const VehicleSummary& vehicle : vehicles) {
    const std::string payload = vehicle.released ? std::string{} : vehicle_json(vehicle);
    auto& last = sent_[vehicle.id];
    if (last != payload) {
      last = payload;
      out.push_back({"mqtt", "vehicle/" + std::to_string(vehicle.id), payload, true});
    }
  }
  return out;
}

}  // namespace dryclock::app
