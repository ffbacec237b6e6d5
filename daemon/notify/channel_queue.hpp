// What waits for one channel: which message is due, and when to look again. Without a thread or a clock of
// its own. Of the notify thread.
#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "domain/outbox.hpp"
#include "notify/channels.hpp"

namespace dryclock::notify {

// The outbox as seen from here.
struct Outbox {
  // Undelivered messages in order of entry.
  std::function<Result<std::vector<OutboxRow>>(const std::string& channel, std::size_t limit)> pending;
  std::function<void(OutboxMark)> mark;  // may take effect later: the queue remembers
  // What became of a message in the end: it was delivered, or is given up.
  std::function<void(const Outgoing&, const OutboxMark&)> settled{};
};

// A failed message waits 1 s, 2 s, 4 s ... 10 min.
struct Backoff {
  Millis first_wait{1'000}, longest_wait{600'000};
  int attempts = 500;  // then a message is given up (about three days); a retained one never is

  [[nodiscard]] Millis after(int failures) const;
};

class ChannelQueue {
 public:
  using Steady = std::chrono::steady_clock;

  ChannelQueue(std::string name, Deliver deliver, Outbox outbox, std::function<Time()> now, Backoff backoff);

  // Tries what is due, in order (what has failed comes last), until one fails or `go_on` says no. A failure
  // pauses the whole channel, so that a dead one is not asked for each message. Returns how long to leave it
  // alone.
  [[nodiscard]] Millis serve(Steady::time_point steady, const std::function<bool()>& go_on);
  // The channel works again: no wait counts in the next round.
  void recovered();

 private:
  // What has been marked, and may not be so in the outbox yet.
  struct Marked {
    bool settled = false;  // delivered or given up
    int attempts = 0;
    Time next_at;
  };

  void forget_what_took_effect(const std::vector<OutboxRow>& rows);
  [[nodiscard]] std::vector<OutboxRow> as_known(const std::vector<OutboxRow>& rows) const;
  void settle(const Outgoing& message, OutboxMark mark) const;
  void failed(const OutboxRow& row, const Problem& why, Steady::time_point steady);

  std::string name_;
  Deliver deliver_;
  Outbox outbox_;
  std::function<Time()> now_;
  Backoff backoff_;
  int failures_ = 0;  // in a row
  Steady::time_point not_before_;
  bool hurry_ = false;
  std::map<std::int64_t, Marked> marked_;
};

}  // namespace dryclock::notify
