#include "engine/series.hpp"

#include <algorithm>

#include "engine/minutes.hpp"

namespace dryclock::engine {
namespace {

// While the bay's other quantity is silent nothing can be integrated and readings pile up. Ten-second
// readings of three days are kept, for a bridge that delivers its backlog late; beyond that the oldest go,
// and the stretch becomes a gap.
constexpr std::size_t most_entries = 30'000;

}  // namespace

std::deque<Series::Entry>::const_iterator Series::from(Time t) const {
  // Nearly always among the newest few.
  auto it = entries_.end();
  for (int looked = 0; it != entries_.begin() && looked < 8; ++looked) {
    if (std::prev(it)->at < t) {
      return it;
    }
    --it;
  }
  return std::lower_bound(entries_.begin(), it, t, [](const Entry& e, Time wanted) { return e.at < wanted; });
}

std::optional<Time> Series::add(Time at, double value) {
  const auto place = entries_.begin() + (from(at) - entries_.cbegin());
  std::optional<Time> before;
  if (place != entries_.begin()) {
    before = std::prev(place)->at;
  }
  if (place != entries_.end() && place->at == at) {
    place->value = value;
    return before;
  }
  entries_.insert(place, {at, value, false});
  if (entries_.size() > most_entries) {
    entries_.pop_front();
  }
  return before;
}

void Series::cut() {
  if (!entries_.empty()) {
    entries_.back().ends = true;
  }
}

std::optional<double> Series::at(Time t, Millis reach) const {
  const auto next = from(t);
  if (next != entries_.end() && next->at == t) {
    return next->value;
  }
  const bool has_last = next != entries_.begin();
  const bool has_next = next != entries_.end();
  const auto last = has_last ? std::prev(next) : next;
  const bool joined = has_last && !last->ends;
  if (joined && has_next && next->at - last->at <= reach) {
    const double share = seconds_between(last->at, t) / seconds_between(last->at, next->at);
    return last->value + (next->value - last->value) * share;
  }
  if (joined && !has_next && t - last->at <= reach) {
    return last->value;
  }
  if (joined && t - last->at < minute) {
    return last->value;
  }
  if (has_next && next->at - t < minute) {
    return next->value;
  }
  return std::nullopt;
}

std::optional<Time> Series::next_known(Time t, Millis reach) const {
  if (at(t, reach)) {
    return t;
  }
  // What was last known is no longer held, so it takes the next reading, which speaks for the minute around
  // it.
  const auto next = from(t);
  return next == entries_.end() ? std::nullopt : std::optional<Time>{std::max(t, floor_minute(next->at))};
}

std::optional<Time> Series::last_until(Time t) const {
  const auto next = from(t);
  if (next != entries_.end() && next->at == t) {
    return t;
  }
  return next == entries_.begin() ? std::nullopt : std::optional<Time>{std::prev(next)->at};
}

std::optional<Time> Series::first_from(Time t) const {
  const auto next = from(t);
  return next == entries_.end() ? std::nullopt : std::optional<Time>{next->at};
}

void Series::forget_before(Time t) {
  while (entries_.size() > 1 && entries_[1].at <= t) {
    entries_.pop_front();
  }
}

}  // namespace dryclock::engine
