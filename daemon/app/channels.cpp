#include "app/channels.hpp"

namespace dryclock::app {

mqtt::Options to_options(const MqttSettings& settings) {
  return {.host = settings.host,
          .port = settings.port,
          .client_id = settings.client_id,
          .base = settings.base,
          .user = settings.user,
          .password_file = settings.password_file,
          .tls = settings.tls,
          .ca_file = settings.ca_file,
          .keep_alive = settings.keep_alive};
}

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
