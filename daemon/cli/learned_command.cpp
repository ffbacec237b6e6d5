#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/show.hpp"

namespace dryclock::cli {
namespace {

void print_learned(Session& session) {
  const auto answer = session.daemon().get("/api/v1/learned");
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    fmt::print("{}", show_learned(understood<LearnedView>(answer), session.board().now, session.words()));
  }
}

// A date alone is its first minute.
void anew(Session& session, const std::string& date) {
  constexpr std::size_t date_alone = 10;  // "2026-03-01"
  const auto text = date.size() == date_alone && date[4] == '-' ? date + " 00:00" : date;
  const Time since = session.time(text, "--anew");
  send(session, LearnAnew{since}, [&](const wording::Words& words) {
    return words.say("learned.anew-done", {say::text("when", words.when(since, session.board().now))});
  });
}

}  // namespace

void add_learned_command(CLI::App& app, Action& action) {
  const auto since = std::make_shared<std::string>();
  auto* learned = app.add_subcommand(
      "learned", "What the shop has shown of its films, its hands and its eyes: what estimates rest on");
  learned->add_option(
      "--anew", *since,
      "What was seen before this date, or date and time, no longer counts (undo takes it back)");
  learned->callback([since, &action] {
    action = print_learned;
    if (!since->empty()) {
      action = [since](Session& session) { anew(session, *since); };
    }
  });
}

}  // namespace dryclock::cli
