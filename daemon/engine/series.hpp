// The accepted readings of one sensor's one quantity, in order of time, as far back as the bay still needs
// them to know its air.
#pragma once

#include <deque>
#include <optional>

#include "base/time.hpp"

namespace dryclock::engine {

class Series {
 public:
  // Returns the time of the reading before it, if there is one. A reading of the very same time replaces.
  std::optional<Time> add(Time at, double value);

  // Nothing is interpolated from the newest reading to what comes next: the clock was stepped between.
  void cut();

  // Linear between two readings no more than `reach` apart. Otherwise what was last known is held for `reach`
  // where nothing newer has come, and a reading speaks for less than a minute around itself.
  [[nodiscard]] std::optional<double> at(Time t, Millis reach) const;

  // No minute from t on and before this one has a value; absent where none has. It may be t itself.
  [[nodiscard]] std::optional<Time> next_known(Time t, Millis reach) const;

  [[nodiscard]] bool empty() const { return entries_.empty(); }
  [[nodiscard]] Time earliest() const { return entries_.front().at; }
  [[nodiscard]] Time latest() const { return entries_.back().at; }
  [[nodiscard]] double latest_value() const { return entries_.back().value; }
  [[nodiscard]] std::optional<Time> last_until(Time t) const;  // newest reading at or before t
  [[nodiscard]] std::optional<Time> first_from(Time t) const;  // oldest reading at or after t

  // Drops what is older than the newest reading at or before t.
  void forget_before(Time t);

 private:
  struct Entry {
    Time at;
    double value;
    bool ends;  // the clock was stepped after it
  };
  [[nodiscard]] std::deque<Entry>::const_iterator from(Time t) const;

  std::deque<Entry> entries_;
};

}  // namespace dryclock::engine
