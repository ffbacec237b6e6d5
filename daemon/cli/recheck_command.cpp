#include <fmt/core.h>

#include <CLI/CLI.hpp>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/show.hpp"

namespace dryclock::cli {
namespace {

constexpr int most_turns = 200;  // of some seconds each

void rechecks(Session& session) {
  // Vehicles that the daemon has not worked out yet are told as pending: it goes on at the next question.
  std::string answer;
  for (int turn = 0; turn < most_turns; ++turn) {
    answer = session.daemon().get("/api/v1/rechecks");
    if (understood<RecheckReport>(answer).pending == 0) {
      break;
    }
  }
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    fmt::print("{}", show_rechecks(understood<RecheckReport>(answer), session.words()));
  }
}

}  // namespace

void add_rechecks_command(CLI::App& app, Action& action) {
  app.add_subcommand(
         "rechecks",
         "Which pieces lift: what the rechecks of all vehicles found, against what was known then")
      ->callback([&action] { action = rechecks; });
}

}  // namespace dryclock::cli
