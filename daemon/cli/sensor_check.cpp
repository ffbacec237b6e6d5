#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/show.hpp"
#include "cli/temperature.hpp"
#include "domain/answers.hpp"

namespace dryclock::cli {
namespace {

constexpr auto guide = R"(How to do it, with {}:
  1. A glass or box with a tight lid, a few spoons of the salt, just enough distilled water that it is like wet sand.
     Undissolved salt must be seen at the bottom all the time. Table salt must be free of additives.
  2. Hang the sensor above it: no drop may touch it. Close the lid. Not in the sun, not in a draught, no heater near: a box
     whose parts differ by 0.2 K is wrong by 1.2 % of the humidity. Wrap it in a towel.
  3. Leave it for 6 hours at the least, better 12. Its readings are kept and do not count for the bay until then.
  4. dryclock sensors check {} tells how far it is; when it is steady: dryclock sensors check {} --store
After 24 hours the check ends by itself. The other salt of a pair (MgCl2 and NaCl) tells slope and offset.
)";

struct Given {
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

void show_progress(Session& session, const SensorView& sensor) {
  const auto zone = session.zone();
  const auto shop = session.shop();
  if (sensor.checking) {
    const auto& check = *sensor.checking;
    fmt::print("{} lies over {} since {}", sensor.name, name_of(check.salt), zone.weekday_clock(check.since));
    if (check.shown_pct && check.temperature_c) {
      fmt::print(", shows {:.1f} %RH at {}", *check.shown_pct,
                 show_temperature(*check.temperature_c, shop.site.fahrenheit()));
    }
    fmt::print(".\n{}\n", in_shop_unit(check.text, shop));
    if (check.result) {
      fmt::print("Keep this: dryclock sensors check {} --store\n", sensor.name);
    }
    return;
  }
  if (!sensor.last_check) {
    fmt::print("{} has never been checked. Begin: dryclock sensors check {} --salt NaCl\n", sensor.name,
               sensor.name);
    return;
  }
  const auto& last = *sensor.last_check;
  const auto& result = last.result;
  fmt::print(
      "{} was checked {} over {} at {}: it showed {:.1f} %RH, {:.1f} (k = 2: {:.1f}) was expected; "
      "{}.\n",
      sensor.name, zone.date_clock(last.at), name_of(result.salt),
      show_temperature(result.temperature_c, shop.site.fahrenheit()), result.shown_pct, result.expected_pct,
      result.expected_expanded_pct, name_of(result.verdict));
  if (last.current && result.slope && result.offset) {
    fmt::print("Correction: slope {}, offset {}. Take it: dryclock sensors check {} --correct\n",
               *result.slope, *result.offset, sensor.name);
  }
  fmt::print("Next check: {}.\n", zone.date_clock(last.due));
}

void check(Session& session, const Given& given) {
  if (!given.salt.empty()) {
    const auto salt = word_of<models::Salt>(given.salt, "salt");
    send(session, SensorCheckStarted{given.name, salt},
         fmt::format("{} goes over {}", given.name, name_of(salt)));
    if (!session.globals().json) {
      fmt::print(guide, given.salt, given.name, given.name);
    }
    return;
  }
  if (given.end) {
    send(session, SensorCheckEnded{given.name}, fmt::format("The check of {} is given up", given.name));
    return;
  }
  const auto sensor = sensor_named(session, given.name);
  if (given.store) {
    if (!sensor.checking || !sensor.checking->result) {
      throw Failure(ExitCode::refused, sensor.checking
                                           ? "not yet: " + in_shop_unit(sensor.checking->text, session.shop())
                                           : given.name + " is not being checked");
    }
    const auto& result = *sensor.checking->result;
    send(session, result,
         fmt::format("{} checked over {}: it shows {:.1f} %RH where {:.1f} is expected: {}", given.name,
                     name_of(result.salt), result.shown_pct, result.expected_pct, name_of(result.verdict)));
    return;
  }
  if (given.correct) {
    if (!sensor.last_check || !sensor.last_check->current || !sensor.last_check->result.slope ||
        !sensor.last_check->result.offset) {
      throw Failure(ExitCode::refused,
                    fmt::format("the last check of {} asks for no correction", given.name));
    }
    const auto& result = sensor.last_check->result;
    send(session, SensorCorrected{given.name, Quantity::relative_humidity, *result.slope, *result.offset},
         fmt::format("{} is read with slope {} and offset {} from now on", given.name, *result.slope,
                     *result.offset));
    return;
  }
  show_progress(session, sensor);
}

}  // namespace

void add_check_command(CLI::App& sensors, Action& action) {
  const auto given = std::make_shared<Given>();
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
