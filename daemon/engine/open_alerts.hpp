// The open alerts: one for each rule and subject. A condition must last before it is raised, and must be
// clearly over before it is cleared.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "domain/effects.hpp"
#include "domain/view.hpp"

namespace dryclock::engine {

inline constexpr Millis at_once{0};  // a condition need not last

enum class Condition : std::uint8_t {
  holds,
  between,  // within the hysteresis: an open alert stays, none is raised
  over,
  unknown,  // nothing is known: an open alert stays, waiting starts afresh
};

class OpenAlerts {
 public:
  using Rows = std::vector<AlertRow>;

  void seed(std::vector<AlertSummary> open);

  // Follows one condition, asked once a minute. Answers the time since which it holds, when it has held for
  // `dwell` and is not open yet: then raise() it. Clears it when it is over.
  [[nodiscard]] std::optional<Time> follow(AlertRule rule, const std::string& subject, Condition condition,
                                           Time now, Millis dwell, Rows& rows);

  // Does nothing where it is open already.
  void raise(AlertRule rule, const std::string& subject, Fact what, Fact advice, Time at, Rows& rows,
             std::optional<AlertLevel> level = {});
  // An open alert follows its newest figures. Nobody is told again; does nothing where none is open or they
  // are the same.
  void restate(AlertRule rule, const std::string& subject, Fact what, Rows& rows);
  void clock_moved(const Fact& what, Time at, Rows& rows);
  void clear(AlertRule rule, const std::string& subject, Time at, Rows& rows);
  void acknowledge(const std::string& id, Time at, Rows& rows);

  [[nodiscard]] bool is_open(AlertRule rule, const std::string& subject) const;
  [[nodiscard]] const AlertSummary* find(const std::string& id) const;
  [[nodiscard]] std::vector<AlertSummary> open() const;  // in order of raising
  // Subjects of a rule that are open.
  [[nodiscard]] std::vector<std::string> subjects(AlertRule rule) const;

 private:
  using Key = std::pair<AlertRule, std::string>;
  std::map<Key, AlertSummary> open_;
  std::map<Key, Time> since_;  // conditions that hold and are waiting
};

// "bay-cold/front"
[[nodiscard]] std::string alert_id(AlertRule rule, std::string_view subject);
[[nodiscard]] AlertLevel usual_level(AlertRule rule);
// "advice.bay-cold"
[[nodiscard]] Fact usual_advice(AlertRule rule);

}  // namespace dryclock::engine
