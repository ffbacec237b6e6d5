#include "app/channels.hpp"

#include <algorithm>
#include <memory>

#include "app/voice.hpp"
#include "engine/open_alerts.hpp"
#include "wire/answer_json.hpp"
#include "wording/spoken.hpp"

namespace dryclock::app {
namespace {

// Mail is read by people: they get the words, not what stands for them. Called on the notify thread alone.
notify::Deliver as_letters(wording::Words words, notify::Deliver deliver) {
  return [words = std::make_shared<const wording::Words>(std::move(words)),
          deliver = std::move(deliver)](const Outgoing& message) {
    Outgoing mail = message;
    mail.payload = letter(message.topic, message.payload, *words);
    return deliver(mail);
  };
}

}  // namespace

std::map<std::string, notify::Deliver> make_channels(const Config& config, const std::function<Time()>& now) {
  std::map<std::string, notify::Deliver> made;
  for (const NotifyChannel& channel : config.notify) {
    switch (channel.kind) {
      case NotifyKind::webhook:
        made[channel.name] = notify::make_deliver(
            notify::Webhook{.url = channel.url, .secret_file = channel.secret_file, .ca_file = {}});
        break;
      case NotifyKind::mail:
        made[channel.name] = as_letters(words_for(config, channel.manner),
                                        notify::make_deliver(notify::Mail{.url = channel.url,
                                                                          .user = channel.user,
                                                                          .secret_file = channel.secret_file,
                                                                          .from = channel.from,
                                                                          .to = channel.to,
                                                                          .ca_file = {}},
                                                             now));
        break;
      case NotifyKind::command:
        made[channel.name] = notify::make_deliver(notify::Command{.arguments = channel.command});
        break;
    }
  }
  return made;
}

std::vector<Publisher::Channel> ways_out(const Config& config) {
  std::vector<Publisher::Channel> out;
  for (const NotifyChannel& channel : config.notify) {
    out.push_back({channel.name, channel.least, words_for(config, channel.manner)});
  }
  return out;
}

std::string letter(const std::string& subject, const std::string& payload, const wording::Words& words) {
  const auto alert = wire::read_alert(payload);
  return alert && !alert->what.words.empty()
             ? words.say("letters.alert",
                         {say::text("what", alert->what.words), say::text("advice", alert->advice.words),
                          say::time("raised", alert->raised)})
             : subject;
}

Outgoing test_message(const Config& config, const std::string& channel, Time now) {
  const auto known = std::ranges::find(config.notify, channel, &NotifyChannel::name);
  const auto words =
      words_for(config, known == config.notify.end() ? config.setup.site.manner : known->manner);
  constexpr auto rule = AlertRule::channel_test;
  AlertSummary test;
  test.id = engine::alert_id(rule, channel);
  test.rule = rule;
  test.subject = channel;
  test.level = engine::usual_level(rule);
  test.raised = now;
  test.what = {"alerts.channel-test"};
  test.advice = engine::usual_advice(rule);
  test = wording::spoken(std::move(test), words);
  return {channel, channel == "mqtt" ? "test" : test.what.words, wire::to_json(test), false};
}

}  // namespace dryclock::app
