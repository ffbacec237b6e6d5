// The notify thread: takes messages from the outbox, channel by channel and in order, and tries each until
// its channel takes it. The waits between tries are in the outbox, so they survive a restart. A message that
// was delivered just before a crash may be delivered again: at least once, never lost.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>

#include "notify/channel_queue.hpp"
#include "notify/channels.hpp"

namespace dryclock::notify {

class Notifier {
 public:
  // `outbox` is asked on the notify thread alone. `now` is for the waits that are kept there.
  Notifier(const std::map<std::string, Deliver>& channels, const Outbox& outbox,
           const std::function<Time()>& now, Backoff backoff = {});
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
