// The notify thread: takes messages from the outbox in order, channel by channel, and tries each until its
// channel takes it. A failed message waits 1 s, 2 s, 4 s ... 10 min; the wait is in the outbox, so it
// survives a restart. A channel that fails pauses in the same manner, so that a dead one does not hold up the
// others. A message that was delivered just before a crash may be delivered again: once at least, never lost.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "domain/outbox.hpp"
#include "notify/channels.hpp"

namespace dryclock::notify {

// The outbox as seen from here. Both on the notify thread.
struct Outbox {
  std::function<Result<std::vector<OutboxRow>>(const std::string& channel, std::size_t limit)> pending;
  std::function<void(OutboxMark)> mark;  // may take effect later: the notifier remembers
};

struct Backoff {
  Millis first_wait{1'000}, longest_wait{600'000};
  int attempts = 500;  // then a message is given up (about three days); a retained one never is
};

class Notifier {
 public:
  // `now` is for the waits that are kept in the outbox.
  Notifier(std::map<std::string, Deliver> channels, Outbox outbox, std::function<Time()> now,
           Backoff backoff = {});
  ~Notifier();  // stop()

  void start();
  // Any thread, all return at once:
  void wake();                                 // there are new messages
  void retry_now(const std::string& channel);  // it works again (the broker is back): wait no longer
  void post(std::function<void()> job);        // to be done on the notify thread
  // Ends the thread after the delivery that is under way; what is pending stays in the outbox.
  void stop();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::notify
