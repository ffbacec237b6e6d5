// dryclock_play: publishes the air of a scripted or a recorded time over MQTT, faster than it passed.

#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <fstream>
#include <map>
#include <stdexcept>
#include <thread>

#include "play/publisher.hpp"
#include "play/recorded_weather.hpp"
#include "play/scripted_night.hpp"

namespace dryclock::play {
namespace {

struct Pace {
  std::string broker = "tcp://127.0.0.1:1883";
  double speed = 1.0;
  int tell_minutes = 0;  // 0: tells nothing on the way
};

Time time_argument(const std::string& text) {
  const auto time = parse_rfc3339(text);
  if (!time) {
    throw std::runtime_error("'" + text + "': " + to_string(time.error()));
  }
  return *time;
}

// Each message at its time, counted from the first and divided by the speed; as fast as the broker takes them
// where that is slower. On the way the told time goes to standard output, so that a script can act by it.
void play(const Messages& messages, const Pace& pace) {
  Publisher publisher{pace.broker, "dryclock-play"};
  const auto start = std::chrono::steady_clock::now();
  const Time first = messages.front().at;
  Time told = first;
  for (const Message& message : messages) {
    const std::chrono::duration<double> passed = (message.at - first) / pace.speed;
    std::this_thread::sleep_until(start +
                                  std::chrono::duration_cast<std::chrono::steady_clock::duration>(passed));
    publisher.publish(message.topic, message.payload);
    if (pace.tell_minutes > 0 && message.at >= told) {
      fmt::print("{}\n", to_rfc3339(message.at));
      std::fflush(stdout);
      told += std::chrono::minutes{pace.tell_minutes};
    }
  }
  publisher.finish();
  fmt::print("published {}, acknowledged {}, sent again {}\n", publisher.published(),
             publisher.acknowledged(), publisher.sent_again());
}

// "front=20.5" and "front=2026-01-21T02:40:00Z" as name and value.
std::pair<std::string, std::string> assignment(const std::string& text) {
  const auto equals = text.find('=');
  if (equals == std::string::npos || equals == 0) {
    throw std::runtime_error("'" + text + "' is not of the form BAY=VALUE");
  }
  return {text.substr(0, equals), text.substr(equals + 1)};
}

std::map<std::string, Time> times_by_bay(const std::vector<std::string>& arguments) {
  std::map<std::string, Time> times;
  for (const std::string& argument : arguments) {
    const auto [bay, time] = assignment(argument);
    times[bay] = time_argument(time);
  }
  return times;
}

std::optional<Time> find(const std::map<std::string, Time>& times, const std::string& bay) {
  const auto found = times.find(bay);
  return found == times.end() ? std::nullopt : std::optional{found->second};
}

int run(int argc, char** argv) {
  CLI::App line{
      "Publishes the air of a scripted or a recorded time over MQTT (QoS 1), faster than it passed.",
      "dryclock_play"};
  line.require_subcommand(1);
  Pace pace;
  std::string from, topic = "play";
  double hours = 24.0;
  int every_s = 60;
  const auto common = [&](CLI::App* command) {
    command->add_option("--broker", pace.broker, "address of the broker")->capture_default_str();
    command->add_option("--from", from, "first instant, RFC 3339")->required();
    command->add_option("--hours", hours, "how long")->check(CLI::PositiveNumber)->capture_default_str();
    command->add_option("--speed", pace.speed, "times real time")
        ->check(CLI::PositiveNumber)
        ->capture_default_str();
    command->add_option("--every", every_s, "seconds between messages")->check(CLI::PositiveNumber);
    command->add_option("--topic", topic, "topic, or first level of the topics")->capture_default_str();
    command->add_option("--tell", pace.tell_minutes, "print the played time every so many minutes");
  };

  std::vector<std::string> bays, heaters_off, heaters_on;
  CLI::App* night = line.add_subcommand("night", "bays with thermostats in a winter night");
  common(night);
  night->add_option("--bay", bays, "BAY=CELSIUS, its thermostat's setting")->required();
  night->add_option("--heater-off", heaters_off, "BAY=TIME, when its heater fails");
  night->add_option("--heater-on", heaters_on, "BAY=TIME, when it is mended");

  std::string file;
  RecordedOptions recorded_options;
  CLI::App* recorded =
      line.add_subcommand("recorded", "hourly weather, as an unheated bay's air, in F and %");
  common(recorded);
  recorded->add_option("--file", file, "CSV with origin, temp, humid, time_hour")->required();
  recorded->add_option("--station", recorded_options.station, "of the column origin")->capture_default_str();
  CLI11_PARSE(line, argc, argv);

  const auto length =
      std::chrono::duration_cast<Millis>(std::chrono::duration<double, std::ratio<3600>>{hours});
  Messages messages;
  if (night->parsed()) {
    NightOptions options{{}, time_argument(from), length, std::chrono::seconds{every_s}, topic};
    const auto off = times_by_bay(heaters_off), on = times_by_bay(heaters_on);
    for (const std::string& bay : bays) {
      const auto [name, setting] = assignment(bay);
      options.bays.push_back({name, std::stod(setting), find(off, name), find(on, name)});
    }
    messages = scripted_night(options);
  } else {
    std::ifstream csv{file};
    if (!csv) {
      throw std::runtime_error("cannot read " + file);
    }
    recorded_options.from = time_argument(from);
    recorded_options.length = length;
    recorded_options.every = std::chrono::seconds{every_s};
    recorded_options.topic = topic;
    messages = recorded_weather(csv, recorded_options);
  }
  if (messages.empty()) {
    throw std::runtime_error("there is nothing to play in that time");
  }
  play(messages, pace);
  return 0;
}

}  // namespace
}  // namespace dryclock::play

int main(int argc, char** argv) {
  try {
    return dryclock::play::run(argc, argv);
  } catch (const std::exception& error) {
    fmt::print(stderr, "dryclock_play: {}\n", error.what());
    return 1;
  }
}
