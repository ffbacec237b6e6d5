#include "app/channels.hpp"

#include <fmt/format.h>

namespace dryclock::app {

std::map<std::string, notify::Deliver> make_channels(const std::vector<NotifyChannel>& channels,
                                                     const std::function<Time()>& now) {
  std::map<std::string, notify::Deliver> made;
  for (const NotifyChannel& channel : channels) {
    switch (channel.kind) {
      case NotifyKind::webhook:
        made[channel.name] = notify::make_deliver(
            notify::Webhook{.url = channel.url, .secret_file = channel.secret_file, .ca_file = {}});
        break;
      case NotifyKind::mail:
        made[channel.name] = notify::make_deliver(notify::Mail{.url = channel.url,
                                                               .user = channel.user,
                                                               .secret_file = channel.secret_file,
                                                               .from = channel.from,
                                                               .to = channel.to,
                                                               .ca_file = {}},
                                                  now);
        break;
      case NotifyKind::command:
        made[channel.name] = notify::make_deliver(notify::Command{.arguments = channel.command});
        break;
    }
  }
  return made;
}

Outgoing test_message(const std::string& channel, Time now) {
  const std::string text = "A test of dryclock's alerts: nothing is wrong.";
  return {
      channel, text,
      fmt::format(
          R"({{"id":"test","rule":"test","subject":"","level":"news","raised":"{}","acknowledged":null,"text":"{}","advice":""}})",
          to_rfc3339(now), text),
      false};
}

}  // namespace dryclock::app
