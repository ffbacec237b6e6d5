#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "base/small_letters.hpp"
#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/naming.hpp"
#include "cli/show.hpp"
#include "cli/table.hpp"

namespace dryclock::cli {
namespace {

struct GivenSearch {
  std::vector<std::string> words;
  std::string from, to;
  bool lifted = false;
};

// Of the pieces that were meant; of all that were on it at the end where none was.
std::string pieces_of(const VehicleFound& vehicle, const wording::Words& words) {
  const bool some = std::ranges::any_of(vehicle.pieces, &PieceFound::hit);
  std::string list;
  for (const auto& piece : vehicle.pieces) {
    if (some ? !piece.hit : piece.ended.has_value()) {
      continue;
    }
    const auto label = piece_label(words, piece);
    list += (list.empty() ? "" : ", ") +
            (piece.lifted ? words.say("client.lifted", {say::text("piece", label)}) : label);
  }
  return list;
}

std::string show_found(const SearchAnswer& answer, const wording::Words& words) {
  Table table(heads(words, {"#", "client-board.head-reference", "client-board.head-arrived",
                            "client-board.head-handed-over", "client.head-pieces-found"}));
  const auto& zone = words.zone();
  for (const auto& vehicle : answer.vehicles) {
    table.row({std::to_string(vehicle.id), vehicle.reference, zone.date_clock(vehicle.arrived),
               vehicle.released ? zone.date_clock(*vehicle.released) : "-", pieces_of(vehicle, words)});
  }
  if (table.empty()) {
    return words.say("client.nothing-found") + "\n";
  }
  return table.text(0) + (answer.more ? words.say("client.more-found") + "\n" : "");
}

void find(Session& session, const GivenSearch& given) {
  Daemon::Query query{{"q", joined(given.words)}};
  if (!given.from.empty()) {
    query.emplace_back("from", to_rfc3339(session.time(given.from, "--from")));
  }
  if (!given.to.empty()) {
    query.emplace_back("to", to_rfc3339(session.time(given.to, "--to")));
  }
  if (given.lifted) {
    query.emplace_back("lifted", "true");
  }
  const auto answer = session.daemon().get("/api/v1/search", query);
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    fmt::print("{}", show_found(understood<SearchAnswer>(answer), session.words()));
  }
}

}  // namespace

VehicleId find_any_vehicle(Session& session, const std::string& name) {
  const auto& board = session.board();
  const bool here = name.empty() || std::ranges::any_of(board.vehicles, [&](const VehicleSummary& one) {
                      return one.reference == name;
                    });
  constexpr std::size_t most_digits = 18;
  const bool digits = name.size() <= most_digits && name.find_first_not_of("0123456789") == std::string::npos;
  if (here || digits) {
    return here ? find_vehicle(board, name).id : std::stoll(name);
  }
  const auto answer = understood<SearchAnswer>(session.daemon().get("/api/v1/search", {{"q", name}}));
  std::vector<const VehicleFound*> matches;
  for (const auto& vehicle : answer.vehicles) {
    if (small_letters(vehicle.reference) == small_letters(name)) {
      matches.push_back(&vehicle);
    }
  }
  if (matches.empty()) {
    return find_vehicle(board, name).id;  // which says what there is
  }
  if (matches.size() == 1) {
    return matches.front()->id;
  }
  auto list = session.say("client.several", {say::text("reference", name)});
  for (const auto* vehicle : matches) {
    const auto& zone = session.words().zone();
    list += fmt::format("\n  {:>5}  {} - {}", vehicle->id, zone.date_clock(vehicle->arrived),
                        vehicle->released ? zone.date_clock(*vehicle->released) : "");
  }
  throw Failure(ExitCode::usage, list);
}

void add_find_command(CLI::App& app, Action& action) {
  const auto given = std::make_shared<GivenSearch>();
  auto* command = app.add_subcommand(
      "find", "Vehicles of all years: by reference, plate, panel, side, film, lot or a date (2026-03)");
  command->add_option("words", given->words,
                      "Each must be true of the vehicle, or of one piece with the others");
  command->add_option("--from", given->from, "In the shop after that");
  command->add_option("--to", given->to, "In the shop before that");
  command->add_flag("--lifted", given->lifted, "Only pieces that somebody saw lifting");
  command->callback([given, &action] { action = [given](Session& s) { find(s, *given); }; });
}

}  // namespace dryclock::cli
