#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <memory>
#include <thread>

#include "base/utf8.hpp"
#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/sensor_toml.hpp"
#include "cli/show.hpp"
#include "cli/table.hpp"
#include "domain/answers.hpp"
#include "domain/quantities.hpp"

namespace dryclock::cli {
namespace {

constexpr const char* search_path = "/api/v1/sensors/search";

// What was not believed, by reason.
std::string doubts(const SensorStream& stream, const wording::Words& words) {
  std::string out;
  for (std::size_t i = 1; i < verdicts; ++i) {
    if (stream.counts[i] > 0) {
      out += (out.empty() ? "" : ", ") +
             show_count(stream.counts[i], words.word("verdict", static_cast<Verdict>(i)), words);
    }
  }
  return out.empty() ? "-" : out;
}

std::string check_text(const SensorView& sensor, const wording::Words& words) {
  if (sensor.checking) {
    return words.say("client-sensors.in-the-glass",
                     {say::text("salt", std::string{name_of(sensor.checking->salt)})});
  }
  if (!sensor.last_check) {
    return words.say("client-sensors.never");
  }
  return words.say("client-sensors.checked",
                   {verdict_value(sensor.last_check->result.verdict),
                    say::text("at", words.zone().date_clock(sensor.last_check->at))});
}

void show_list(Session& session) {
  const auto answer = session.daemon().get("/api/v1/sensors");
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  const auto list = understood<SensorsAnswer>(answer);
  const auto& words = session.words();
  Table table(heads(
      words, {"client-sensors.head-sensor", "client-sensors.head-bay", "client-sensors.head-from",
              "client-sensors.head-quantity", "client-sensors.head-last", "client-sensors.head-age",
              "client-sensors.head-used", "client-sensors.head-doubted", "client-sensors.head-checked"}));
  for (const auto& sensor : list.sensors) {
    for (const auto& stream : sensor.reads) {
      table.row({sensor.name, sensor.bay,
                 words.say("client-sensors.from-" + std::string{name_of(sensor.from)}),
                 words.word("quantity", stream.read.quantity),
                 show_reading(stream.value, stream.read.quantity, words),
                 stream.at ? words.span(list.now - *stream.at) : words.say("client-sensors.never"),
                 std::to_string(stream.counts[0]), doubts(stream, words), check_text(sensor, words)});
    }
  }
  fmt::print("{}", table.empty() ? words.say("client-sensors.none") + "\n" : table.text(0));
}

void show_proposed(const ProposedSensor& sensor, const wording::Words& words) {
  fmt::print("{}\n", one_line(sensor.name));
  for (const auto& [read, sample] : sensor.reads) {
    fmt::print(
        "  {}\n",
        words.say(read.pointer.empty() ? "client-sensors.found" : "client-sensors.found-at",
                  {say::text("quantity", words.word("quantity", read.quantity)),
                   say::text("unit", words.unit_symbol(read.unit)), say::text("sample", one_line(sample)),
                   say::text("topic", one_line(read.topic)), say::text("pointer", one_line(read.pointer))}));
  }
  for (const auto& guess : sensor.guesses) {
    fmt::print("  {}\n", words.say("client-sensors.guessed", {say::fact("guess", guess)}));
  }
  fmt::print("  {}\n", words.say("client-sensors.set-it-up", {say::text("sensor", sensor.name)}));
}

void show_found(const SensorSearch& search, const wording::Words& words) {
  for (const auto& sensor : search.sensors) {
    show_proposed(sensor, words);
  }
  if (search.sensors.empty()) {
    fmt::print("{}\n", words.say("client-sensors.nothing-found"));
  }
  Table rest({words.say("client-sensors.other-topics"), "", ""});
  for (const auto& topic : search.topics) {
    if (topic.kind != TopicKind::readings) {
      constexpr std::size_t most_shown = 60;
      rest.row({topic.topic, std::string{utf8_head(topic.payload, most_shown)},
                topic.kind == TopicKind::taken          ? words.say("client-sensors.taken")
                : topic.kind == TopicKind::availability ? words.say("client-sensors.availability")
                                                        : ""});
    }
  }
  if (!rest.empty()) {
    fmt::print("\n{}", rest.text(0));
  }
  if (search.left_off > 0) {
    fmt::print("{}\n", words.say("client-sensors.left-off", {say::count("n", search.left_off)}));
  }
}

void find(Session& session, int seconds) {
  auto search = understood<SensorSearch>(
      session.daemon().post(search_path, fmt::format(R"({{"seconds":{}}})", seconds)));
  if (!session.globals().json) {
    fmt::print(stderr, "{}\n",
               session.say("client-sensors.listening", {say::text("seconds", std::to_string(seconds))}));
  }
  std::string answer;
  do {
    std::this_thread::sleep_for(std::chrono::seconds{1});
    answer = session.daemon().get(search_path);
    search = understood<SensorSearch>(answer);
  } while (search.running);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    show_found(search, session.words());
  }
}

struct Assignment {
  SensorAssigned sensor;
  std::string found, topic, temperature, humidity, panel, temperature_topic, humidity_topic, panel_topic;
  std::string unit = "C", humidity_unit = "%", time;
};

// A read where a pointer or a topic of its own was given for it.
void add_read(Assignment& given, Quantity quantity, const std::string& topic, const std::string& pointer,
              Unit unit) {
  if (topic.empty() && pointer.empty()) {
    return;
  }
  const auto& from = topic.empty() ? given.topic : topic;
  if (from.empty()) {
    throw Failure(ExitCode::usage,
                  fmt::format("--topic is missing: where does {} come from?", name_of(quantity)));
  }
  given.sensor.reads.push_back({from, pointer, quantity, unit, 1.0, 0.0, given.time});
}

void assign(Session& session, Assignment given) {
  const auto unit = word_of<Unit>(given.unit, "unit");
  const auto humidity_unit = word_of<Unit>(given.humidity_unit, "unit");
  add_read(given, Quantity::air_temperature, given.temperature_topic, given.temperature, unit);
  add_read(given, Quantity::relative_humidity, given.humidity_topic, given.humidity, humidity_unit);
  add_read(given, Quantity::panel_temperature, given.panel_topic, given.panel, unit);
  if (given.sensor.reads.empty()) {
    if (!given.topic.empty()) {
      throw Failure(ExitCode::usage, "where in the payload? --temperature /pointer, --humidity /pointer");
    }
    const auto wanted = given.found.empty() ? given.sensor.sensor : given.found;
    const auto search = understood<SensorSearch>(session.daemon().get(search_path));
    for (const auto& proposed : search.sensors) {
      if (proposed.name == wanted) {
        for (const auto& one : proposed.reads) {
          given.sensor.reads.push_back(one.read);
        }
      }
    }
    if (given.sensor.reads.empty()) {
      throw Failure(ExitCode::usage,
                    fmt::format("nothing was found under \"{}\": dryclock sensors find, or say --topic and "
                                "pointers",
                                wanted));
    }
  }
  const auto said = done("client-sensors.set-up",
                         {say::text("sensor", given.sensor.sensor), say::text("bay", given.sensor.bay)});
  send(session, std::move(given.sensor), said);
}

void add_assign(CLI::App& sensors, Action& action) {
  const auto given = std::make_shared<Assignment>();
  auto* command = sensors.add_subcommand(
      "assign",
      "Set a sensor up, from the last find or by topic and pointers; the same name again replaces it");
  command->add_option("name", given->sensor.sensor, "Its name")->required();
  command->add_option("--bay", given->sensor.bay, "The bay whose air it tells")->required();
  command->add_option("--found", given->found, "Its name in the last find, where you give it another one");
  command->add_option("--topic", given->topic, "MQTT topic of its JSON payload");
  command->add_option("--temperature", given->temperature,
                      "JSON pointer to the air's temperature: /temperature");
  command->add_option("--humidity", given->humidity, "JSON pointer to the relative humidity: /humidity");
  command->add_option("--panel", given->panel, "JSON pointer to a panel's temperature");
  command->add_option("--temperature-topic", given->temperature_topic,
                      "Topic of the temperature alone; without a pointer its payload is the bare number");
  command->add_option("--humidity-topic", given->humidity_topic, "Topic of the humidity alone");
  command->add_option("--panel-topic", given->panel_topic, "Topic of the panel's temperature alone");
  command->add_option("--unit", given->unit, "Of temperatures: C, F or K")->capture_default_str();
  command->add_option("--humidity-unit", given->humidity_unit, "% or fraction")->capture_default_str();
  command->add_option("--time", given->time,
                      "JSON pointer to the time of reading; left out: the time of receipt counts");
  command->add_option("--model", given->sensor.model, "What it is; for the record");
  command->add_option("--place", given->sensor.place, "Where it hangs; for the record");
  command
      ->add_option("--accuracy", given->sensor.tolerance_pct,
                   "What its maker states for humidity, %RH; 2 is common practice, no source")
      ->capture_default_str();
  command->callback([given, &action] { action = [given](Session& s) { assign(s, *given); }; });
}

}  // namespace

void add_sensor_commands(CLI::App& app, Action& action) {
  auto* sensors = app.add_subcommand(
      "sensors", "Sensors: alone, the list with last values, what was not believed, and the last check");
  sensors->require_subcommand(0, 1);
  sensors->callback([&action, sensors] {
    if (sensors->get_subcommands().empty()) {
      action = show_list;
    }
  });

  const auto seconds = std::make_shared<int>(60);
  auto* search =
      sensors->add_subcommand("find", "Listen on every topic for a while, and say what looks like a sensor");
  search->add_option("--seconds", *seconds, "How long, 5 to 600")->capture_default_str();
  search->callback([seconds, &action] { action = [seconds](Session& s) { find(s, *seconds); }; });

  add_assign(*sensors, action);

  const auto name = std::make_shared<std::string>();
  auto* retire = sensors->add_subcommand("retire", "A sensor that assign set up is no longer read");
  retire->add_option("name", *name, "Its name")->required();
  retire->callback([name, &action] {
    action = [name](Session& s) {
      send(s, SensorRetired{*name}, done("client-sensors.retired", {say::text("sensor", *name)}));
    };
  });

  add_check_command(*sensors, action);

  sensors->add_subcommand("export", "All sensors as [[sensor]] blocks of the configuration file")
      ->callback([&action] {
        action = [](Session& s) {
          fmt::print("{}", sensor_toml(understood<SensorsAnswer>(s.daemon().get("/api/v1/sensors")).sensors));
        };
      });
}

}  // namespace dryclock::cli
