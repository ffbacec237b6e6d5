#include "app/channels.hpp"

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

}  // namespace dryclock::app
