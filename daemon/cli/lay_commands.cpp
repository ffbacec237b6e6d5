#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "base/number_text.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/naming.hpp"
#include "cli/piece_named.hpp"
#include "domain/event_fields.hpp"
#include "domain/names.hpp"
#include "domain/piece_fact.hpp"

namespace dryclock::cli {
namespace {

struct GivenLay : GivenPiece {
  std::string part, film, solution, wetness, lot, tension, relief_cuts, joins, place, other_place;
  std::vector<std::string> zones;
  double area = 0.0;
  bool own_words = false, another = false;
};

// "1/2"
std::pair<int, int> parse_part(const std::string& text) {
  const auto slash = text.find('/');
  const auto number = [](std::string_view digits) { return number_of<int>(digits).value_or(0); };
  const int part = slash == std::string::npos ? 0 : number(std::string_view(text).substr(0, slash));
  const int parts = slash == std::string::npos ? 0 : number(std::string_view(text).substr(slash + 1));
  if (part < 1 || parts < part) {
    throw Failure(ExitCode::usage, fmt::format("--part \"{}\": write 1/2 for the first of two", text));
  }
  return {part, parts};
}

// By key or by the word of any language, checked; the first entry where nothing is given.
template <class Entry>
const Entry& entry_of(const std::vector<Entry>& entries, const std::string& key, std::string_view name) {
  if (entries.empty()) {
    throw Failure(ExitCode::refused, fmt::format("the daemon's catalogue has no {}", name));
  }
  std::vector<std::string_view> keys;
  keys.reserve(entries.size());
  for (const auto& entry : entries) {
    if (!key.empty() && (key == entry.label_uk || key == entry.label_us || key == entry.label_de)) {
      return entry;
    }
    keys.emplace_back(entry.key);
  }
  return key.empty() ? entries.front() : entries[index_of(key, name, keys)];
}

// A place of the catalogue by its words, or as it is typed.
std::string place_of(Session& session, const std::string& typed) {
  const auto words = name_words(typed);
  for (const auto known : known_places) {
    if (name_words(known) == words ||
        name_words(session.names().value(place_value(std::string{known}))) == words) {
      return std::string{known};
    }
  }
  return typed;
}

void read_lay(Session& session, const GivenLay& given, Lay& lay) {
  const auto& catalogue = session.shop();
  if (!given.part.empty()) {
    std::tie(lay.part, lay.parts) = parse_part(given.part);
  }
  if (!given.film.empty() || lay.film.empty()) {
    lay.film = entry_of(catalogue.films, given.film, "film").key;
  }
  if (!given.solution.empty() || lay.solution.empty()) {
    lay.solution = entry_of(catalogue.solutions, given.solution, "solution").key;
  }
  if (!given.wetness.empty()) {
    lay.wetness = word_of<models::Wetness>(given.wetness, "wetness");
  }
  for (const auto& zone : given.zones) {
    lay.zones.push_back(word_of<models::ZoneKind>(zone, "zone"));
  }
  if (!given.place.empty()) {
    lay.place = place_of(session, given.place);
  }
  lay.lot = given.lot;
  lay.area_m2 = given.area;
  lay.notes = {given.tension, given.relief_cuts, given.joins};
}

void send_lay(Session& session, const Lay& lay, const Done& said) {
  send(session, lay, said);
  const auto& solution = entry_of(session.shop().solutions, lay.solution, "solution");
  if (solution.solution.alcohol_fraction > 0.0 && !session.globals().json) {
    fmt::print("{}\n", session.say("cautions.solvent"));
  }
}

// What stands on that panel, or on that side of it.
std::vector<const PieceSummary*> standing(const VehicleSummary& vehicle, const Lay& lay) {
  std::vector<const PieceSummary*> there;
  for (const auto& piece : vehicle.pieces) {
    if (laid_now(piece) && piece.panel == lay.panel && (!piece.side || !lay.side || piece.side == lay.side)) {
      there.push_back(&piece);
    }
  }
  return there;
}

// It is one more part of the panel: what stands there gets the other numbers, in order of laying.
void lay_beside(const std::vector<const PieceSummary*>& there, const GivenLay& given, Lay& lay) {
  if (given.part.empty()) {
    lay.parts = static_cast<int>(there.size()) + 1;
    lay.part = lay.parts;
  }
  int part = 0;
  for (const auto* piece : there) {
    part += part + 1 == lay.part ? 2 : 1;
    lay.beside.push_back({piece->id, part, {}});
  }
  if (!given.other_place.empty()) {
    if (lay.beside.size() != 1) {
      throw Failure(ExitCode::usage,
                    fmt::format("--other-place is for the one piece that stands there; there "
                                "are {}",
                                lay.beside.size()));
    }
    lay.beside.front().place = given.other_place;
  }
}

void lay_piece(Session& session, const GivenLay& typed) {
  auto given = typed;
  given.vehicle = take_vehicle(session.board(), given.words, given.vehicle);
  const auto& vehicle = find_vehicle(session.board(), given.vehicle);
  Lay lay;
  lay.vehicle = vehicle.id;
  const auto spot = find_panel(session.shop(), session.names(), joined(given.words), given.own_words);
  lay.panel = spot.panel;
  lay.side = spot.side;
  read_lay(session, given, lay);
  if (given.another) {
    given.other_place = place_of(session, given.other_place);
    lay_beside(standing(vehicle, lay), given, lay);
  }
  send_lay(session, lay, [&](const wording::Words& words) {
    return words.say("client.laid",
                     {say::text("piece", piece_label(words, lay)), say::text("vehicle", vehicle.reference),
                      say::film("film", lay.film), say::solution("solution", lay.solution),
                      say::text("wetness", words.word("wetness", lay.wetness))});
  });
}

// Of film, solution, wetness and zones what is not said stays as it was on the piece that is replaced; roll,
// area and notes are the new piece's own.
void lay_again(Session& session, const GivenLay& given) {
  const auto found = piece_of(session, given.words, given.vehicle);
  Lay lay;
  lay.vehicle = found.vehicle->id;
  lay.panel = found.piece->panel;
  lay.side = found.piece->side;
  lay.place = found.piece->place;
  lay.part = found.piece->part;
  lay.parts = found.piece->parts;
  lay.film = found.piece->film;
  lay.solution = found.piece->solution;
  lay.wetness = found.piece->wetness;
  lay.replaces = found.piece->id;
  if (given.zones.empty()) {
    for (const auto& zone : found.piece->state.zones) {
      lay.zones.push_back(zone.kind);
    }
  }
  read_lay(session, given, lay);
  send_lay(session, lay, [&](const wording::Words& words) {
    return words.say("client.laid-again",
                     {piece_value(words, found), say::text("replaces", std::to_string(found.piece->id))});
  });
}

void add_lay_options(CLI::App& command, const std::shared_ptr<GivenLay>& given) {
  command.add_option("--part", given->part, "Which piece of how many on this panel: 1/2");
  command.add_option("--place", given->place,
                     "What this part is called: upper half, front third, or any words");
  command.add_option("--film", given->film, "Key of the film; left out: the catalogue's first");
  command.add_option("--solution", given->solution,
                     "Key of what was sprayed; left out: the catalogue's first");
  command.add_option("--wetness", given->wetness,
                     "How it was pulled: dry-pulled, usual, wet, or pooled where water stands in a recess");
  command.add_option("--zones", given->zones, "field, edge, recess, turn; left out: as the catalogue says")
      ->delimiter(',');
  command.add_option("--lot", given->lot, "The roll's lot number, as printed");
  command.add_option("--area", given->area, "[m2]; left out: as the catalogue says")
      ->check(CLI::Range(0.0, 20.0));
  command.add_option("--tension", given->tension, "Where the film is under tension");
  command.add_option("--relief-cuts", given->relief_cuts, "Where relief cuts are");
  command.add_option("--joins", given->joins, "Where it meets another piece");
}

}  // namespace

void add_lay_commands(CLI::App& app, Action& action) {
  const auto add = [&](const char* name, const char* text, const char* words_name, const char* words_text,
                       void (*what)(Session&, const GivenLay&)) {
    const auto given = std::make_shared<GivenLay>();
    auto* command = app.add_subcommand(name, text);
    command->add_option(words_name, given->words, words_text)->required();
    command->add_option("-v,--vehicle", given->vehicle,
                        "On which vehicle; may be left out where there is one");
    add_lay_options(*command, given);
    if (what == lay_piece) {
      command->add_flag("--own-words", given->own_words,
                        "The panel is not in the catalogue: take it as written");
      auto* another = command->add_flag(
          "--another", given->another,
          "Another part of a panel that has a piece: both stay. One that was laid again: relay");
      command
          ->add_option("--other-place", given->other_place,
                       "With --another: what the piece that stands there is called from now on")
          ->needs(another);
    }
    command->callback([given, what, &action] { action = [given, what](Session& s) { what(s, *given); }; });
  };
  add("lay", "A piece of film was laid", "panel",
      "The panel and its side, in UK, US or German words, in any order: bonnet, left front door; a vehicle's "
      "reference may stand before it",
      lay_piece);
  add("relay",
      "A piece was pulled and laid again; what is not said of film, solution, wetness and zones stays "
      "as it was",
      "piece", piece_help, lay_again);
}

}  // namespace dryclock::cli
