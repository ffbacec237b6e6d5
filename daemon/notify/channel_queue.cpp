#include "notify/channel_queue.hpp"

#include <algorithm>
#include <utility>

#include "base/log.hpp"

namespace dryclock::notify {
namespace {

constexpr std::size_t batch = 256;
constexpr Millis idle{60'000};
constexpr Millis outbox_retry{5'000};
constexpr Millis marks_take_effect{100};

}  // namespace

Millis Backoff::after(int failures) const {
  const int doublings = std::clamp(failures - 1, 0, 20);
  return std::min(first_wait * (std::int64_t{1} << doublings), longest_wait);
}

ChannelQueue::ChannelQueue(std::string name, Deliver deliver, Outbox outbox, std::function<Time()> now,
                           Backoff backoff)
    : name_(std::move(name)),
      deliver_(std::move(deliver)),
      outbox_(std::move(outbox)),
      now_(std::move(now)),
      backoff_(backoff) {}

Millis ChannelQueue::serve(Steady::time_point steady, const std::function<bool()>& go_on) {
  if (steady < not_before_) {
    return std::chrono::ceil<Millis>(not_before_ - steady);
  }
  const auto pending = outbox_.pending(name_, batch);
  if (!pending) {
    log::warning("notify {}: {}", name_, to_string(pending.error()));
    return outbox_retry;
  }
  forget_what_took_effect(pending.value());
  // Rows that are settled here but not yet there may hide others behind them.
  Millis wait = pending.value().size() == batch ? marks_take_effect : idle;
  const bool hurry = std::exchange(hurry_, false);
  auto rows = as_known(pending.value());
  if (!hurry) {  // so that one that is always refused does not stand before those that were never tried
    std::stable_sort(rows.begin(), rows.end(),
                     [](const auto& a, const auto& b) { return a.attempts < b.attempts; });
  }
  for (const auto& row : rows) {
    // A wait longer than any that is given means that the wall clock was set back.
    const Millis ahead = row.next_at - now_();
    if (!hurry && ahead > Millis{0} && ahead <= backoff_.longest_wait) {
      wait = std::min(wait, ahead);
      continue;
    }
    if (!go_on()) {
      return Millis{0};
    }
    const auto delivered = deliver_(row.message);
    if (!delivered) {
      failed(row, delivered.error(), steady);
      return std::chrono::ceil<Millis>(not_before_ - steady);
    }
    failures_ = 0;
    marked_[row.id] = {.settled = true, .attempts = row.attempts, .next_at = {}};
    settle(row.message, {.id = row.id, .step = OutboxStep::delivered, .next_at = {}, .why = {}});
  }
  return wait;
}

void ChannelQueue::recovered() {
  failures_ = 0;
  not_before_ = {};
  hurry_ = true;
}

void ChannelQueue::forget_what_took_effect(const std::vector<OutboxRow>& rows) {
  std::map<std::int64_t, Marked> still;
  for (const auto& row : rows) {
    const auto marked = marked_.find(row.id);
    if (marked != marked_.end() && (marked->second.settled || marked->second.attempts > row.attempts)) {
      still.insert(*marked);
    }
  }
  marked_ = std::move(still);
}

// The outbox's rows with what is known here and not there yet; settled ones left out.
std::vector<OutboxRow> ChannelQueue::as_known(const std::vector<OutboxRow>& rows) const {
  std::vector<OutboxRow> known;
  for (const auto& row : rows) {
    const auto marked = marked_.find(row.id);
    if (marked == marked_.end()) {
      known.push_back(row);
    } else if (!marked->second.settled) {
      known.push_back({.id = row.id,
                       .message = row.message,
                       .attempts = marked->second.attempts,
                       .next_at = marked->second.next_at});
    }
  }
  return known;
}

void ChannelQueue::failed(const OutboxRow& row, const Problem& why, Steady::time_point steady) {
  ++failures_;
  not_before_ = steady + backoff_.after(failures_);
  const int attempts = row.attempts + 1;
  const bool give_up = attempts >= backoff_.attempts && !row.message.retained;
  OutboxMark mark{.id = row.id,
                  .step = give_up ? OutboxStep::given_up : OutboxStep::failed,
                  .next_at = now_() + backoff_.after(attempts),
                  .why = to_string(why)};
  if (give_up) {
    log::error("notify {}: \"{}\" is given up after {} attempts: {}", name_, row.message.topic, attempts,
               mark.why);
  } else if (failures_ == 1) {
    log::warning("notify {}: \"{}\" waits: {}", name_, row.message.topic, mark.why);
  }
  marked_[row.id] = {.settled = give_up, .attempts = attempts, .next_at = mark.next_at};
  if (give_up) {
    settle(row.message, std::move(mark));
  } else {
    outbox_.mark(std::move(mark));
  }
}

void ChannelQueue::settle(const Outgoing& message, OutboxMark mark) const {
  if (outbox_.settled) {
    outbox_.settled(message, mark);
  }
  outbox_.mark(std::move(mark));
}

}  // namespace dryclock::notify
