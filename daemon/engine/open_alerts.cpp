#include "engine/open_alerts.hpp"

#include <algorithm>

#include "domain/names.hpp"

namespace dryclock::engine {

std::string alert_id(AlertRule rule, std::string_view subject) {
  return std::string{name_of(rule)} + "/" + std::string{subject};
}

// Urgent is what ruins film tonight or loses data; a step that may follow is news.
AlertLevel usual_level(AlertRule rule) {
  switch (rule) {
    case AlertRule::piece_ready:
    case AlertRule::release_ready:
    case AlertRule::sensor_check_due:
    case AlertRule::settings_changed:
    case AlertRule::channel_test:
    case AlertRule::worth_a_look:
      return AlertLevel::news;
    case AlertRule::dew:
    case AlertRule::disk_low:
    case AlertRule::broker_dropping:
    case AlertRule::solvent:
    case AlertRule::store_failing:
      return AlertLevel::urgent;
    case AlertRule::bay_cold:
    case AlertRule::bay_damp:
    case AlertRule::pace_low:
    case AlertRule::estimate_slipped:
    case AlertRule::sensor_silent:
    case AlertRule::sensor_stuck:
    case AlertRule::sensor_implausible:
    case AlertRule::sensor_skewed:
    case AlertRule::sensors_disagree:
    case AlertRule::sensor_swings:
    case AlertRule::sensor_drift:
    case AlertRule::clock_stepped:
    case AlertRule::clock_doubtful:
    case AlertRule::seal_failing:
      break;
  }
  return AlertLevel::warning;
}

Fact usual_advice(AlertRule rule) {
  return {"advice." + std::string{name_of(rule)}};
}

void OpenAlerts::seed(std::vector<AlertSummary> open) {
  for (auto& alert : open) {
    const Key key{alert.rule, alert.subject};
    open_.insert_or_assign(key, std::move(alert));
  }
}

std::optional<Time> OpenAlerts::follow(AlertRule rule, const std::string& subject, Condition condition,
                                       Time now, Millis dwell, Rows& rows) {
  const Key key{rule, subject};
  if (condition == Condition::holds) {
    if (open_.contains(key)) {
      return std::nullopt;
    }
    const Time since = since_.try_emplace(key, now).first->second;
    if (now - since < dwell) {
      return std::nullopt;
    }
    since_.erase(key);
    return since;
  }
  since_.erase(key);
  if (condition == Condition::over) {
    clear(rule, subject, now, rows);
  }
  return std::nullopt;
}

void OpenAlerts::clock_moved(const Fact& what, Time at, Rows& rows) {
  raise(AlertRule::clock_stepped, "clock", what, usual_advice(AlertRule::clock_stepped), at, rows);
  restate(AlertRule::clock_stepped, "clock", what, rows);
}

void OpenAlerts::raise(AlertRule rule, const std::string& subject, Fact what, Fact advice, Time at,
                       Rows& rows, std::optional<AlertLevel> level) {
  const Key key{rule, subject};
  if (open_.contains(key)) {
    return;
  }
  AlertSummary alert;
  alert.id = alert_id(rule, subject);
  alert.rule = rule;
  alert.subject = subject;
  alert.level = level.value_or(usual_level(rule));
  alert.raised = at;
  alert.what = std::move(what);
  alert.advice = std::move(advice);
  rows.push_back({AlertStep::raised, alert});
  open_.emplace(key, std::move(alert));
}

void OpenAlerts::restate(AlertRule rule, const std::string& subject, Fact what, Rows& rows) {
  const auto found = open_.find({rule, subject});
  if (found != open_.end() && found->second.what != what) {
    found->second.what = std::move(what);
    rows.push_back({AlertStep::restated, found->second});
  }
}

void OpenAlerts::clear(AlertRule rule, const std::string& subject, Time at, Rows& rows) {
  const auto found = open_.find({rule, subject});
  if (found == open_.end()) {
    return;
  }
  found->second.cleared = at;
  rows.push_back({AlertStep::cleared, std::move(found->second)});
  open_.erase(found);
}

void OpenAlerts::acknowledge(const std::string& id, Time at, Rows& rows) {
  for (auto& [key, alert] : open_) {
    if (alert.id == id && !alert.acknowledged) {
      alert.acknowledged = at;
      rows.push_back({AlertStep::acknowledged, alert});
    }
  }
}

bool OpenAlerts::is_open(AlertRule rule, const std::string& subject) const {
  return open_.contains({rule, subject});
}

const AlertSummary* OpenAlerts::find(const std::string& id) const {
  const auto found =
      std::find_if(open_.begin(), open_.end(), [&](const auto& entry) { return entry.second.id == id; });
  return found == open_.end() ? nullptr : &found->second;
}

std::vector<AlertSummary> OpenAlerts::open() const {
  std::vector<AlertSummary> out;
  for (const auto& [key, alert] : open_) {
    out.push_back(alert);
  }
  std::stable_sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.raised < b.raised; });
  return out;
}

std::vector<std::string> OpenAlerts::subjects(AlertRule rule) const {
  std::vector<std::string> out;
  for (const auto& [key, alert] : open_) {
    if (key.first == rule) {
      out.push_back(key.second);
    }
  }
  return out;
}

}  // namespace dryclock::engine
