// What comes after the hand-over: which vehicles have left, and what their recheck found.
#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/naming.hpp"
#include "cli/show.hpp"

namespace dryclock::cli {
namespace {

struct GivenCare {
  std::vector<std::string> words;
  std::string vehicle, zone;
};

// A piece of a vehicle that has left: by its number, or by its panel on a vehicle that must then be named.
struct PastPiece {
  std::string reference, label;
  PieceId id = 0;
};

PastPiece past_piece(const std::vector<HandedOver>& vehicles, Session& session, const std::string& name,
                     const std::string& reference) {
  std::string list;
  struct Named {
    PastPiece piece;
    PlannedPiece name;
  };
  std::vector<Named> all;
  for (const auto& vehicle : vehicles) {
    if (!reference.empty() && vehicle.reference != reference &&
        std::to_string(vehicle.vehicle) != reference) {
      continue;
    }
    for (const auto& piece : vehicle.pieces) {
      const auto label = piece_label(session.names(), piece);
      list += fmt::format("\n  {:>5}  {} on {}", piece.id, label, vehicle.reference);
      if (std::to_string(piece.id) == name) {
        return {vehicle.reference, label, piece.id};
      }
      all.push_back({{vehicle.reference, label, piece.id}, name_of_piece(piece)});
    }
  }
  std::vector<PastPiece> matches;
  const auto namings = [&](const Named& one) {
    return namings_of(session.shop(), session.names(), one.name);
  };
  for (const auto& one : reference.empty() ? std::vector<Named>{} : best_fits(name, all, namings)) {
    matches.push_back(one.piece);
  }
  if (matches.size() == 1) {
    return matches.front();
  }
  throw Failure(ExitCode::usage,
                fmt::format("\"{}\" is {} of what was handed over; say its number{}:{}", name,
                            matches.empty() ? "no piece" : "more than one piece",
                            reference.empty() ? ", or the vehicle with --vehicle" : "", list));
}

void recheck(Session& session, const GivenCare& given) {
  if (given.words.size() < 2) {
    throw Failure(ExitCode::usage, "after the piece, what you found is expected (sound, lifting, redone)");
  }
  auto words_given = given.words;
  const auto finding = word_of<RecheckFinding>(words_given.back(), "finding");
  words_given.pop_back();
  Rechecked rechecked{.piece = 0, .finding = finding};
  if (!given.zone.empty()) {
    rechecked.zone = word_of<models::ZoneKind>(given.zone, "zone");
  }
  const auto answer = session.daemon().get("/api/v1/handed-over");
  const auto piece =
      past_piece(understood<HandedOverAnswer>(answer).vehicles, session, joined(words_given), given.vehicle);
  rechecked.piece = piece.id;
  send(session, rechecked, [&](const wording::Words& words) {
    std::vector<Value> values{say::text("piece", on_vehicle(words, piece.label, piece.reference)),
                              say::text("finding", words.word("recheck", finding))};
    if (rechecked.zone) {
      values.push_back(say::text("zone", words.word("zone", *rechecked.zone)));
    }
    return words.say(rechecked.zone ? "client.rechecked-at" : "client.rechecked", values);
  });
}

}  // namespace

void list_handed_over(Session& session) {
  const auto answer = session.daemon().get("/api/v1/handed-over");
  if (session.globals().json) {
    fmt::print("{}\n", answer);
  } else {
    fmt::print("{}", show_handed_over(understood<HandedOverAnswer>(answer).vehicles, session.board().now,
                                      session.words()));
  }
}

void add_aftercare_commands(CLI::App& app, Action& action) {
  const auto given = std::make_shared<GivenCare>();
  auto* command =
      app.add_subcommand("recheck", "What the recheck found, two to three weeks after the hand-over");
  command
      ->add_option(
          "piece", given->words,
          "The piece (its number, or its panel with --vehicle) and the finding (sound, lifting, redone)")
      ->required();
  command->add_option("-v,--vehicle", given->vehicle, "Of which vehicle: reference or number");
  command->add_option("--zone", given->zone, "Where it lifts: field, edge, recess or turn");
  command->callback([given, &action] { action = [given](Session& s) { recheck(s, *given); }; });
}

}  // namespace dryclock::cli
