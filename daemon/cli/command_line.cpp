#include "cli/command_line.hpp"

#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>

#include "base/version.hpp"
#include "cli/commands.hpp"
#include "cli/completion.hpp"
#include "cli/failure.hpp"
#include "cli/manual.hpp"
#include "config/nearest.hpp"

namespace dryclock::cli {
namespace {

constexpr auto about =
    "dryclock tells when wet-laid film on a vehicle may be wrapped, trimmed, refitted and handed over.\n"
    "Without a command it shows the board.";

constexpr auto footer = R"(Examples:
  dryclock                                      what is ready this morning
  dryclock vehicle in demo-1 --hand-over "2026-03-02 17:00"
  dryclock lay bonnet --film baseline --wetness wet
  dryclock lay van-117 left front door --at 15:20
  dryclock lay front bumper --another --place "lower half" --other-place "upper half"
  dryclock look left front door clear           what you saw at its edge
  dryclock inspect bonnet edge clear            what you saw: the estimate learns from it
  dryclock wrap bonnet                          the edges are wrapped
  dryclock relay front bumper 1                 it was pulled and laid again
  dryclock undo 41                              event 41 was a mistake
  dryclock vehicle release demo-1 --advised "mirror still moist, no wash for a week"
  dryclock receipt demo-1                       for the customer on arrival, with the seal's newest hash
  dryclock handover demo-1                      the customer's sheet; record demo-1 is your own evidence
  dryclock air --temp 70F --rh 55 --panel 60F   dew point and pace, without the daemon
  dryclock dry cases/baseline.toml              one zone dried on paper

A piece is named by its number or what it is called (bonnet, left front door, door left front, bonnet 2) or the beginning
of that, a vehicle by its reference or number. Where one vehicle is in the shop it need not be named. UK, US and German
words for panels are all understood.

Environment: DRYCLOCK_URL, DRYCLOCK_TOKEN, DRYCLOCK_WHO, DRYCLOCK_LANGUAGE, DRYCLOCK_CONFIG_DIR (as --url, --token, --who,
             --language, --config-dir)
Exit codes: 0 done; 1 the daemon refused, and says why, or verify found something; 2 wrong command line, or no such vehicle or piece;
            3 no daemon answers; 4 a file is missing or wrong)";

// `language` as it is typed.
void add_globals(CLI::App& app, Globals& globals, std::string& language) {
  app.add_option("--url", globals.url, "Where the daemon answers")
      ->envname("DRYCLOCK_URL")
      ->capture_default_str();
  app.add_option("--token", globals.token,
                 "What the daemon asks of clients from other machines, and of all with require_token")
      ->envname("DRYCLOCK_TOKEN");
  app.add_flag("--json", globals.json, "Print JSON for programs instead of text");
  app.add_option("--at", globals.at,
                 "When it happened, if not now: 07:40 (today) or \"2026-03-01 07:40\", local time");
  app.add_option("--who", globals.who, "Who did it: name or initials")->envname("DRYCLOCK_WHO");
  app.add_option("--note", globals.note, "A remark that goes with the event");
  app.add_option("--zone", globals.zone, "Time zone of local times, if not the shop's: Europe/London");
  app.add_option("--language", language,
                 "Of what is printed for people: en-GB, en-US or de; left out: the shop's. Help and JSON "
                 "stay as they are")
      ->envname("DRYCLOCK_LANGUAGE");
  app.add_option("--config-dir", globals.config_dir, "Folder of films.toml and the other shipped files")
      ->envname("DRYCLOCK_CONFIG_DIR");
}

int tell(ExitCode code, const char* message) {
  fmt::print(stderr, "dryclock: {}\n", message);
  return static_cast<int>(code);
}

// What the parser says, and what a mistyped command may have been.
std::string usage_message(const CLI::App& app, const CLI::ParseError& error) {
  const auto left = app.remaining();
  if (app.get_subcommands().empty() && !left.empty()) {
    std::vector<std::string> names;
    for (const auto* command : app.get_subcommands({})) {
      names.push_back(command->get_name());
    }
    return fmt::format("no command \"{}\"{}\nTry: dryclock --help", left.front(),
                       config::did_you_mean(left.front(), {names.begin(), names.end()}));
  }
  return fmt::format("{}\nTry: dryclock --help", error.what());
}

}  // namespace

int run_command_line(int argc, char** argv) {
  CLI::App app{about, "dryclock"};
  app.fallthrough();
  app.require_subcommand(0, 1);
  app.set_version_flag("--version", version);
  Globals globals;
  globals.url = "http://127.0.0.1:8077";
  std::string language;
  add_globals(app, globals, language);
  Action action = show_board_command;
  add_shop_commands(app, action);
  add_vehicle_commands(app, action);
  add_lay_commands(app, action);
  add_piece_commands(app, action);
  add_air_commands(app, action);
  add_sensor_commands(app, action);
  add_coupon_commands(app, action);
  add_plate_commands(app, action);
  add_bond_commands(app, action);
  add_record_commands(app, action);
  add_find_command(app, action);
  add_rechecks_command(app, action);
  add_learned_command(app, action);
  add_verify_command(app, action);
  add_aftercare_commands(app, action);
  add_pair_command(app, action);
  auto* completion = app.add_subcommand(
      "completion", "What the shell needs to complete commands, vehicles, pieces: dryclock completion bash");
  std::string shell;
  completion->add_option("shell", shell, "bash, zsh or fish")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish"}));
  completion->callback([&] { action = [&](Session&) { fmt::print("{}", completion_script(shell)); }; });

  app.add_subcommand("manual", "All of this as a man page: dryclock manual | man -l -")->callback([&] {
    action = [&](Session&) { fmt::print("{}", manual_page(app, version)); };
  });

  app.footer(footer);  // last: sub-commands would inherit it

  const int asked_at = completion_asked_at(app, argc, argv);
  try {
    app.parse(asked_at, argv);
    if (!language.empty()) {
      globals.language = word_of<Language>(language, "language");
    }
    Session session(std::move(globals));
    if (asked_at < argc) {
      for (const auto& word : completions(app, session, {argv + asked_at + 1, argv + argc})) {
        fmt::print("{}\n", word);
      }
      return static_cast<int>(ExitCode::ok);
    }
    action(session);
  } catch (const CLI::Success& asked) {  // --help
    return app.exit(asked);
  } catch (const CLI::ParseError& error) {
    return tell(ExitCode::usage, usage_message(app, error).c_str());
  } catch (const Failure& failure) {
    return tell(failure.code(), failure.what());
  } catch (const std::exception& error) {
    return tell(ExitCode::refused, error.what());
  }
  return static_cast<int>(ExitCode::ok);
}

}  // namespace dryclock::cli
