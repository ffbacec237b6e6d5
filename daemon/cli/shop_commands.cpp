#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <boost/json.hpp>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/naming.hpp"
#include "cli/show.hpp"
#include "config/nearest.hpp"

namespace dryclock::cli {
namespace {

void status(Session& session) {
  const auto health = session.daemon().health();
  if (session.globals().json) {
    fmt::print("{}\n", health);
  } else {
    fmt::print("{}", show_status(understood<Health>(health), session.board(), session.words()));
  }
}

void events(Session& session, const std::string& vehicle) {
  Daemon::Query query;
  if (!vehicle.empty()) {
    query.emplace_back("vehicle", std::to_string(find_vehicle(session.board(), vehicle).id));
  }
  const auto answer = session.daemon().get("/api/v1/events", query);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    fmt::print("{}", show_events(understood<EventsAnswer>(answer).events, session.words()));
  }
}

void alerts(Session& session, const std::string& from, const std::string& to) {
  if (from.empty() && to.empty() && !session.globals().json) {
    fmt::print("{}", show_alerts(session.board().alerts, session.board().now, session.words()));
    return;
  }
  Daemon::Query query;
  if (!from.empty()) {
    query.emplace_back("from", to_rfc3339(session.time(from, "--from")));
  }
  if (!to.empty()) {
    query.emplace_back("to", to_rfc3339(session.time(to, "--to")));
  }
  const auto answer = session.daemon().get("/api/v1/alerts", query);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    fmt::print("{}",
               show_alerts(understood<AlertsAnswer>(answer).alerts, session.board().now, session.words()));
  }
}

// Takes back all that was told with that event.
void undo_deed(Session& session, Seq number) {
  const auto told = understood<EventsAnswer>(session.daemon().get("/api/v1/events")).events;
  const auto event = std::ranges::find(told, number, &Event::seq);
  if (event == told.end() || event->deed.empty()) {
    throw Failure(ExitCode::usage, fmt::format("event {} was told by itself: undo it without --all", number));
  }
  const auto undo = session.event(Superseded{});
  const auto answer = session.daemon().post(
      "/api/v1/deeds",
      boost::json::serialize(boost::json::object{
          {"key", undo.key}, {"undo", event->deed}, {"who", undo.who}, {"note", undo.note}}));
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  std::string list;
  for (const auto& one : understood<DeedTaken>(answer).events) {
    list += (list.empty() ? "" : ", ") + std::to_string(std::get<Superseded>(one.detail).event);
  }
  fmt::print("{}\n", session.say("client.deed-taken-back", {say::text("events", list)}));
}

// Exit code 1 where a channel did not deliver. As JSON: {"tests":[ChannelTest, ...]}.
void test_channels(Session& session, const std::string& channel) {
  std::vector<std::string> names;
  if (channel.empty()) {
    for (const auto& one : understood<Channels>(session.daemon().get("/api/v1/channels")).channels) {
      names.push_back(one.name);
    }
  } else {
    names.push_back(channel);
  }
  std::string failed, answers;
  for (const auto& name : names) {
    const auto answer = session.daemon().post(fmt::format("/api/v1/channels/{}/test", Daemon::escaped(name)));
    const auto result = understood<ChannelTest>(answer);
    if (session.globals().json) {
      answers += (answers.empty() ? "" : ",") + answer;
    } else {
      fmt::print("{}\n", session.say(result.delivered ? "client.delivered" : "client.not-delivered",
                                     {say::text("channel", name), say::text("why", result.why)}));
    }
    failed += result.delivered ? "" : (failed.empty() ? "" : ", ") + name;
  }
  if (session.globals().json) {
    fmt::print("{{\"tests\":[{}]}}\n", answers);
  }
  if (!failed.empty()) {
    throw Failure(ExitCode::refused, session.say("client.no-way-out", {say::text("channels", failed)}));
  }
}

}  // namespace

std::size_t index_of(const std::string& word, std::string_view name,
                     const std::vector<std::string_view>& known) {
  std::string list;
  for (std::size_t i = 0; i < known.size(); ++i) {
    if (known[i] == word) {
      return i;
    }
    list += fmt::format("{}{}", list.empty() ? "" : ", ", known[i]);
  }
  throw Failure(
      ExitCode::usage,
      fmt::format("\"{}\" is no {}{} There are: {}", word, name,
                  config::nearest(word, known).empty() ? "." : config::did_you_mean(word, known), list));
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) {
    text += (text.empty() ? "" : " ") + word;
  }
  return text;
}

Done done(std::string_view key, std::vector<Value> values) {
  return [key = std::string{key}, values = std::move(values)](const wording::Words& words) {
    return words.say(key, values);
  };
}

void send(Session& session, EventDetail detail, const Done& what, const std::string& plate,
          const std::string& customer) {
  const auto event = session.event(std::move(detail));
  if (session.globals().json) {
    fmt::print("{}\n", session.submit(event, plate, customer));
    return;
  }
  const auto& words = session.words();
  const auto said = what(words);
  const auto answer = session.submit(event, plate, customer);
  fmt::print("{}\n",
             words.say("client.sent",
                       {say::text("what", said), say::text("at", words.when(event.at, session.board().now)),
                        say::text("event", std::to_string(understood<Accepted>(answer).seq))}));
}

void show_board_command(Session& session) {
  if (session.globals().json) {
    fmt::print("{}\n", session.daemon().get("/api/v1/board"));
  } else {
    fmt::print("{}", show_board(session.board(), session.shop().site.name, session.words()));
  }
}

void add_shop_commands(CLI::App& app, Action& action) {
  app.add_subcommand("board", "What is ready, what is drying, what is wrong (also without any command)")
      ->callback([&action] { action = show_board_command; });
  app.add_subcommand("status", "Whether daemon, database and broker are well, and each sensor's last reading")
      ->callback([&action] { action = status; });

  struct Given {
    std::string vehicle, from, to, alert, text, channel;
    Seq event = 0;
    bool all = false;
  };
  const auto given = std::make_shared<Given>();

  auto* list = app.add_subcommand("events", "What was told, in order, with the numbers that undo takes");
  list->add_option("vehicle", given->vehicle, "Its reference or number; left out: of all vehicles");
  list->callback([given, &action] { action = [given](Session& s) { events(s, given->vehicle); }; });

  auto* alarm = app.add_subcommand("alerts", "Open alerts; with --from or --to (or --json) past ones");
  alarm->add_option("--from", given->from, "Raised after this; left out: a week ago");
  alarm->add_option("--to", given->to, "Raised until then; left out: now");
  auto* test =
      alarm->add_subcommand("test", "Sends a message over a channel now, and says whether it was delivered");
  test->add_option("channel", given->channel,
                   "Its name in the configuration, or mqtt; left out: each of them");
  alarm->callback([given, test, &action] {
    action = [given, tested = test->parsed()](Session& s) {
      tested ? test_channels(s, given->channel) : alerts(s, given->from, given->to);
    };
  });

  auto* ack = app.add_subcommand("ack", "Acknowledge an alert: it stays open, and is quiet");
  ack->add_option("alert", given->alert, "Its name as the board shows it in brackets: bay-cold/front")
      ->required();
  ack->callback([given, &action] {
    action = [given](Session& s) {
      send(s, AlertAcknowledged{given->alert},
           done("client.acknowledged", {say::text("alert", given->alert)}));
    };
  });

  auto* note = app.add_subcommand("note", "Write a note into a vehicle's record");
  note->add_option("text", given->text, "The note, in quotes")->required();
  note->add_option("-v,--vehicle", given->vehicle,
                   "Its reference or number; may be left out where there is one");
  note->callback([given, &action] {
    action = [given](Session& s) {
      const auto& vehicle = find_vehicle(s.board(), given->vehicle);
      s.set_note(given->text);
      send(s, Noted{vehicle.id}, done("client.noted", {say::text("vehicle", vehicle.reference)}));
    };
  });

  auto* undo = app.add_subcommand("undo",
                                  "Take back an event that was entered wrongly: it stays in the record, "
                                  "marked, and the estimate is made as if it had never been");
  undo->add_option("event", given->event, "Its number, as printed when it was entered or by: dryclock events")
      ->required();
  undo->add_flag("--all", given->all, "With all that was told together with it");
  undo->callback([given, &action] {
    action = [given](Session& s) {
      if (given->all) {
        return undo_deed(s, given->event);
      }
      send(s, Superseded{given->event},
           done("client.taken-back", {say::text("event", std::to_string(given->event))}));
    };
  });
}

}  // namespace dryclock::cli
