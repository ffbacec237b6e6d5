// What the rules of alerts share: how a condition becomes an alert.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <utility>

#include "engine/open_alerts.hpp"

namespace dryclock::engine {

// Alerts, rows and time together.
struct AlertContext {
  OpenAlerts& alerts;
  OpenAlerts::Rows& rows;
  Time now;

  // `what` is only made when it is needed.
  template <class What>
  void follow(AlertRule rule, const std::string& subject, Condition condition, Millis dwell, What&& what,
              std::optional<AlertLevel> level = {}) {
    if (alerts.follow(rule, subject, condition, now, dwell, rows)) {
      raise(rule, subject, what(), level);
    }
  }
  void raise(AlertRule rule, const std::string& subject, Fact what, std::optional<AlertLevel> level = {}) {
    alerts.raise(rule, subject, std::move(what), usual_advice(rule), now, rows, level);
  }
  // What of these rules is open and over by `is_over(rule, subject)`.
  template <class IsOver>
  void clear_where(std::initializer_list<AlertRule> rules, IsOver&& is_over) {
    for (const auto rule : rules) {
      for (const auto& subject : alerts.subjects(rule)) {
        if (is_over(rule, subject)) {
          alerts.clear(rule, subject, now, this->rows);
        }
      }
    }
  }
};

// Of a value that is `by` beyond its limit. Unwatched it would stay unknown for good: an open alert is over.
[[nodiscard]] inline Condition beyond(bool watched, std::optional<double> by, double hysteresis) {
  return !watched             ? Condition::over
         : !by                ? Condition::unknown
         : *by > 0.0          ? Condition::holds
         : *by <= -hysteresis ? Condition::over
                              : Condition::between;
}

}  // namespace dryclock::engine
