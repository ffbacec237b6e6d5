#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <fstream>
#include <memory>

#include "cli/answer.hpp"
#include "cli/case_file.hpp"
#include "cli/commands.hpp"
#include "cli/dry_report.hpp"
#include "cli/dry_run.hpp"
#include "cli/failure.hpp"
#include "cli/show.hpp"
#include "cli/table.hpp"
#include "cli/temperature.hpp"
#include "cli/validity_words.hpp"
#include "config/config_error.hpp"
#include "config/shipped_files.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::cli {
namespace {

struct GivenAir {
  std::string bay, from, to, temp, panel;
  int every = 0;
  double rh = -1.0;
};

double celsius_of(const std::string& text, std::string_view option) {
  const auto celsius = parse_temperature(text);
  if (!celsius) {
    throw Failure(ExitCode::usage, fmt::format("{}: {}", option, celsius.error().what));
  }
  return *celsius;
}

// What is known of air without the daemon.
struct PaperAir {
  models::Surroundings air;                                               // and the panel
  double dew_point = 0.0, saturation = 0.0, vapour = 0.0, density = 0.0;  // C, Pa, Pa, g/m3
  double pace = 0.0;
  std::uint8_t validity = models::valid;
};

// Pure psychrometrics.
PaperAir compute(const GivenAir& given) {
  using models::Celsius;
  PaperAir out;
  auto& air = out.air;
  air.air = Celsius{celsius_of(given.temp, "--temp")};
  air.humidity = models::Humidity{given.rh / 100.0};
  const Celsius panel{given.panel.empty() ? air.air.value() : celsius_of(given.panel, "--panel")};
  air.panel_c = panel.value();
  const auto vapour = models::vapour_pressure(air.air, air.humidity);
  out.vapour = vapour.value();
  out.dew_point = models::dew_point(vapour).value();
  out.saturation = models::saturation_pressure(air.air).value();
  out.density = models::vapour_density(air.air, vapour).value();
  out.pace = models::pace(panel, air.air, air.humidity);
  out.validity = models::out_of_range(air);
  if (out.dew_point <= coldest_c) {  // it is held there: the real one is lower
    out.validity = static_cast<std::uint8_t>(out.validity | models::air_out_of_range);
  }
  if (panel.value() <= out.dew_point) {
    out.validity = static_cast<std::uint8_t>(out.validity | models::condensing);
  }
  return out;
}

std::string as_json(const PaperAir& paper, double rh) {
  std::string cautions;
  for (const auto& word : validity_keys(paper.validity)) {
    cautions += fmt::format("{}\"{}\"", cautions.empty() ? "" : ",", word);
  }
  return fmt::format(
      "{{\"air_c\":{},\"rh_pct\":{},\"panel_c\":{},\"dew_point_c\":{},\"saturation_pa\":{},\"vapour_pa\":{},"
      "\"vapour_density_gm3\":{},\"pace\":{},\"validity\":[{}]}}\n",
      paper.air.air.value(), rh, paper.air.panel_c, paper.dew_point, paper.saturation, paper.vapour,
      paper.density, paper.pace, cautions);
}

// `panel`: whether one was given.
std::string as_text(const PaperAir& paper, bool panel, const wording::Words& words) {
  constexpr std::size_t name_width = 17;
  const auto with_unit = [&](std::string_view unit, double value, int decimals) {
    return words.say(unit, {say::text("n", words.fixed(value, decimals))});
  };
  Named lines{
      {words.say("client-paper.dew-point"), words.temperature(paper.dew_point)},
      {words.say("client-paper.saturation"), with_unit("client-paper.pressure", paper.saturation, 1)},
      {words.say("client-paper.vapour-pressure"), with_unit("client-paper.pressure", paper.vapour, 1)},
      {words.say("client-paper.vapour-density"), with_unit("client-paper.density", paper.density, 2)},
      {words.say("client-paper.pace"),
       words.say(panel ? "client-paper.pace-of-panel" : "client-paper.pace-of",
                 {say::text("pace", words.fixed(paper.pace, 2)),
                  say::celsius("air", models::reference_temperature.value()),
                  say::humidity("humidity", 100.0 * models::reference_activity),
                  say::number("panel", Measure::celsius, paper.air.panel_c)})}};
  for (auto& word : validity_words(paper.validity, words)) {
    lines.emplace_back(words.say("client-paper.caution"), std::move(word));
  }
  return named_lines(lines, 0, name_width);
}

void compute_air(const Session& session, const GivenAir& given) {
  const auto paper = compute(given);
  const bool fahrenheit = given.temp.ends_with('F') || given.temp.ends_with('f');
  fmt::print("{}", session.globals().json
                       ? as_json(paper, given.rh)
                       : as_text(paper, !given.panel.empty(),
                                 session.words_alone(fahrenheit ? TemperatureScale::fahrenheit
                                                                : TemperatureScale::celsius)));
}

void bay_air(Session& session, const GivenAir& given) {
  if (given.bay.empty()) {
    throw Failure(ExitCode::usage, "name a bay (dryclock air front), or give --temp and --rh");
  }
  Daemon::Query query;
  if (!given.from.empty()) {
    query.emplace_back("from", to_rfc3339(session.time(given.from, "--from")));
  }
  if (!given.to.empty()) {
    query.emplace_back("to", to_rfc3339(session.time(given.to, "--to")));
  }
  constexpr int readable_minutes = 30;
  const int every = given.every > 0 ? given.every : session.globals().json ? 0 : readable_minutes;
  if (every > 0) {
    query.emplace_back("every", std::to_string(every));
  }
  const auto answer =
      session.daemon().get(fmt::format("/api/v1/bays/{}/air", Daemon::escaped(given.bay)), query);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    fmt::print("{}", show_air(understood<AirAnswer>(answer).points, session.board().now, session.words()));
  }
}

void air(Session& session, const GivenAir& given) {
  if (given.temp.empty() == (given.rh >= 0.0)) {
    throw Failure(ExitCode::usage, "--temp and --rh go together");
  }
  if (given.temp.empty()) {
    bay_air(session, given);
  } else {
    compute_air(session, given);
  }
}

struct GivenOutlook {
  std::string bay;
  std::size_t hours = 24;
};

void outlook(Session& session, const GivenOutlook& given) {
  const auto answer =
      session.daemon().get(fmt::format("/api/v1/bays/{}/air-ahead", Daemon::escaped(given.bay)));
  if (session.globals().json) {
    fmt::print("{}\n", answer);
    return;
  }
  const auto ahead = understood<AirAheadAnswer>(answer);
  auto hours = ahead.hours;
  hours.resize(std::min(hours.size(), given.hours));
  fmt::print("{}", show_air_ahead(hours, ahead.now, session.words()));
}

struct GivenDry {
  std::string file, csv;
  double every = 60.0;
};

void dry(const Session& session, const GivenDry& given) {
  DryCase dry_case;
  try {
    dry_case = read_case(given.file, find_shipped_files(session.globals().config_dir));
  } catch (const ConfigError& error) {
    throw Failure(ExitCode::bad_input,
                  fmt::format("the case cannot be dried, {} problem{}:\n{}", error.problems().size(),
                              error.problems().size() == 1 ? "" : "s", error.what()));
  }
  const auto result = run(dry_case, given.every);
  if (!given.csv.empty()) {
    std::ofstream out(given.csv);
    if (!(out << csv_report(result) << std::flush)) {
      throw Failure(ExitCode::bad_input, fmt::format("{}: cannot be written", given.csv));
    }
  }
  fmt::print("{}", session.globals().json ? json_report(dry_case, result)
                                          : text_report(dry_case, result, session.words_alone()));
}

}  // namespace

void add_air_commands(CLI::App& app, Action& action) {
  const auto of_air = std::make_shared<GivenAir>();
  auto* air_command = app.add_subcommand(
      "air",
      "A bay's air as it was (dryclock air front), or computed without the daemon (--temp 21 --rh 50)");
  air_command->add_option("bay", of_air->bay, "Name of the bay");
  air_command->add_option("--from", of_air->from, "Left out: a day before --to");
  air_command->add_option("--to", of_air->to, "Left out: now");
  air_command->add_option("--every", of_air->every, "Minutes between lines; left out: 30")
      ->check(CLI::Range(1, 1440));
  air_command->add_option("--temp", of_air->temp, "Air temperature: 21, 21C or 70F");
  air_command->add_option("--rh", of_air->rh, "Relative humidity [%]")->check(CLI::Range(0.0, 100.0));
  air_command->add_option("--panel", of_air->panel, "The panel's temperature; left out: the air's");
  air_command->callback([of_air, &action] { action = [of_air](Session& s) { air(s, *of_air); }; });

  const auto of_outlook = std::make_shared<GivenOutlook>();
  auto* outlook_command =
      app.add_subcommand("outlook", "A bay's air over the next hours: 80 % bands, cold, damp and dew");
  outlook_command->add_option("bay", of_outlook->bay, "Name of the bay")->required();
  outlook_command->add_option("--hours", of_outlook->hours, "How many")
      ->check(CLI::Range(1, 72))
      ->capture_default_str();
  outlook_command->callback(
      [of_outlook, &action] { action = [of_outlook](Session& s) { outlook(s, *of_outlook); }; });

  const auto of_dry = std::make_shared<GivenDry>();
  auto* dry_command = app.add_subcommand("dry", "Dry one zone on paper: a case file, no daemon");
  dry_command
      ->add_option("case", of_dry->file, "TOML or JSON; the format is in README.md, section Case files")
      ->required();
  dry_command->add_option("--csv", of_dry->csv, "Write the series to this file");
  dry_command->add_option("--every", of_dry->every, "Minutes between the points of the series")
      ->check(CLI::Range(1.0, 1440.0))
      ->capture_default_str();
  dry_command->callback([of_dry, &action] { action = [of_dry](Session& s) { dry(s, *of_dry); }; });
}

}  // namespace dryclock::cli
