#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/show.hpp"
#include "domain/answers.hpp"
#include "wire/field_writer.hpp"

namespace dryclock::cli {
namespace {

// Of a box: what the guide warns of.
constexpr double unevenness_k = 0.2;

struct GivenCheck {
  std::string name, salt;
  bool store = false, correct = false, end = false;
};

SensorView sensor_named(Session& session, const std::string& name) {
  const auto list = understood<SensorsAnswer>(session.daemon().get("/api/v1/sensors"));
  std::string known;
  for (const auto& sensor : list.sensors) {
    if (sensor.name == name) {
      return sensor;
    }
    known += (known.empty() ? "" : ", ") + sensor.name;
  }
  throw Failure(ExitCode::usage, fmt::format("no sensor \"{}\"; there are: {}", name, known));
}

Value sensor_value(const std::string& name) {
  return say::text("sensor", name);
}
Value salt_value(models::Salt salt) {
  return say::text("salt", std::string{name_of(salt)});
}
Value humidity_value(std::string_view name, double pct, const wording::Words& words) {
  return say::text(name, words.say("units.humidity", {say::text("n", words.fixed(pct, 1))}));
}
// What is kept of them has all their digits.
std::vector<Value> correction_values(const std::string& sensor, double slope, double offset,
                                     const wording::Words& words) {
  constexpr int decimals = 4;
  return {sensor_value(sensor), say::text("slope", words.number(slope, decimals)),
          say::text("offset", words.number(offset, decimals))};
}

void show_checking(const SensorView& sensor, const CheckProgress& check, Time now,
                   const wording::Words& words) {
  std::vector<Value> values{sensor_value(sensor.name), salt_value(check.salt),
                            say::text("at", words.when(check.since, now))};
  const bool shows = check.shown_pct && check.temperature_c;
  if (shows) {
    values.push_back(humidity_value("shown", *check.shown_pct, words));
    values.push_back(say::number("temperature", Measure::celsius, *check.temperature_c));
  }
  fmt::print("{}\n{}\n",
             words.say(shows ? "client-sensors.lies-over-showing" : "client-sensors.lies-over", values),
             words.sentence(check.what));
  if (check.result) {
    fmt::print("{}\n", words.say("client-sensors.keep-this", {sensor_value(sensor.name)}));
  }
}

void show_last(const SensorView& sensor, const PastCheck& last, const wording::Words& words) {
  const auto& result = last.result;
  fmt::print("{}\n", words.say("client-sensors.was-checked",
                               {sensor_value(sensor.name), salt_value(result.salt),
                                say::text("at", words.zone().date_clock(last.at)),
                                say::number("temperature", Measure::celsius, result.temperature_c),
                                humidity_value("shown", result.shown_pct, words),
                                say::text("expected", words.fixed(result.expected_pct, 1)),
                                say::text("expanded", words.fixed(result.expected_expanded_pct, 1)),
                                verdict_value(result.verdict)}));
  if (last.current && result.slope && result.offset) {
    fmt::print("{}\n", words.say("client-sensors.correction",
                                 correction_values(sensor.name, *result.slope, *result.offset, words)));
  }
  fmt::print("{}\n",
             words.say("client-sensors.next-check", {say::text("at", words.zone().date_clock(last.due))}));
}

void show_progress(Session& session, const SensorView& sensor) {
  if (session.globals().json) {
    fmt::print("{}\n", wire::written(sensor));
    return;
  }
  const auto& words = session.words();
  if (sensor.checking) {
    show_checking(sensor, *sensor.checking, session.board().now, words);
  } else if (sensor.last_check) {
    show_last(sensor, *sensor.last_check, words);
  } else {
    fmt::print("{}\n", words.say("client-sensors.never-checked", {sensor_value(sensor.name)}));
  }
}

void start(Session& session, const GivenCheck& given) {
  const auto salt = word_of<models::Salt>(given.salt, "salt");
  const std::vector<Value> values{sensor_value(given.name), salt_value(salt),
                                  say::kelvin("unevenness", unevenness_k)};
  send(session, SensorCheckStarted{given.name, salt}, done("client-sensors.goes-over", values));
  if (!session.globals().json) {
    fmt::print("{}\n", session.say("client-sensors.check-guide", values));
  }
}

void store(Session& session, const SensorView& sensor) {
  if (!sensor.checking) {
    throw Failure(ExitCode::refused,
                  session.say("client-sensors.not-being-checked", {sensor_value(sensor.name)}));
  }
  if (!sensor.checking->result) {
    throw Failure(ExitCode::refused,
                  session.say("client-sensors.not-steady", {say::fact("what", sensor.checking->what)}));
  }
  const auto& result = *sensor.checking->result;
  send(session, result, [&](const wording::Words& words) {
    return words.say(
        "client-sensors.kept",
        {sensor_value(sensor.name), salt_value(result.salt), humidity_value("shown", result.shown_pct, words),
         say::text("expected", words.fixed(result.expected_pct, 1)), verdict_value(result.verdict)});
  });
}

void correct(Session& session, const SensorView& sensor) {
  const auto& last = sensor.last_check;
  if (!last || !last->current || !last->result.slope || !last->result.offset) {
    throw Failure(ExitCode::refused,
                  session.say("client-sensors.no-correction", {sensor_value(sensor.name)}));
  }
  const double slope = *last->result.slope, offset = *last->result.offset;
  send(session, SensorCorrected{sensor.name, Quantity::relative_humidity, slope, offset},
       [&](const wording::Words& words) {
         return words.say("client-sensors.corrected", correction_values(sensor.name, slope, offset, words));
       });
}

void check(Session& session, const GivenCheck& given) {
  if (!given.salt.empty()) {
    start(session, given);
  } else if (given.end) {
    send(session, SensorCheckEnded{given.name}, done("client-sensors.given-up", {sensor_value(given.name)}));
  } else if (const auto sensor = sensor_named(session, given.name); given.store) {
    store(session, sensor);
  } else if (given.correct) {
    correct(session, sensor);
  } else {
    show_progress(session, sensor);
  }
}

}  // namespace

void add_check_command(CLI::App& sensors, Action& action) {
  const auto given = std::make_shared<GivenCheck>();
  auto* command = sensors.add_subcommand(
      "check", "Check a sensor's humidity in a box over a salt; without an option: how far it is");
  command->add_option("name", given->name, "The sensor")->required();
  auto* salt = command->add_option("--salt", given->salt,
                                   "It goes over this salt now: NaCl, MgCl2, LiCl, K2CO3, KCl, K2SO4");
  auto* store = command->add_flag("--store", given->store, "It is steady: keep the result");
  auto* correct =
      command->add_flag("--correct", given->correct, "Take the correction that the last check asks for");
  auto* end = command->add_flag("--end", given->end, "Give the check up");
  salt->excludes(store)->excludes(correct)->excludes(end);
  store->excludes(correct)->excludes(end);
  correct->excludes(end);
  command->callback([given, &action] { action = [given](Session& s) { check(s, *given); }; });
}

}  // namespace dryclock::cli
