#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <array>
#include <memory>

#include "base/number_text.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/naming.hpp"
#include "cli/show.hpp"
#include "cli/temperature.hpp"
#include "domain/event_fields.hpp"
#include "domain/milestones.hpp"

namespace dryclock::cli {
namespace {

struct Given {
  std::vector<std::string> words;
  std::string vehicle;
};

struct GivenLay : Given {
  std::string part, film, solution, wetness, lot, tension, relief_cuts, joins;
  std::vector<std::string> zones;
  double area = 0.0;
  bool own_words = false;
};

struct GivenHeat : Given {
  std::string zone;
  double area = HeatApplied{}.area_m2, tool = HeatApplied{}.tool_w;
};

struct GivenStep : Given {
  bool after_all = false;
};

// Takes the last `count` words off: what follows the piece's name.
std::vector<std::string> take_last(std::vector<std::string>& words, std::size_t count,
                                   std::string_view what) {
  if (words.size() <= count) {
    throw Failure(ExitCode::usage, fmt::format("after the piece, {} is expected", what));
  }
  const auto from = words.end() - static_cast<std::ptrdiff_t>(count);
  std::vector<std::string> taken(from, words.end());
  words.erase(from, words.end());
  return taken;
}

FoundPiece piece_of(Session& session, const std::vector<std::string>& words, const std::string& vehicle) {
  return find_piece(session.board(), session.shop(), session.names(), joined(words), vehicle);
}

Value piece_value(const wording::Words& words, const FoundPiece& found) {
  return say::text("piece", on_vehicle(words, piece_label(words, *found.piece), found.vehicle->reference));
}

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

void lay_piece(Session& session, const GivenLay& given) {
  const auto& vehicle = find_vehicle(session.board(), given.vehicle);
  Lay lay;
  lay.vehicle = vehicle.id;
  lay.panel = find_panel(session.shop(), joined(given.words), given.own_words);
  read_lay(session, given, lay);
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

// How sure the estimate is of the milestone that a step asks for; empty where it is announced.
std::string advice(const PieceSummary& piece, models::Milestone milestone, const wording::Words& words) {
  const auto& view = milestone_of(piece, milestone);
  if (view.announced) {
    return "";
  }
  const auto why = words.fact(view.held_by);
  return words.say(why.empty() ? "client.was-early" : "client.was-early-for",
                   {say::text("ready", words.word("ready", milestone)),
                    say::text("chance", show_chance(view.probability, words)), say::text("held_by", why)}) +
         "\n";
}

template <class Detail>
void do_step(Session& session, const Given& given, std::string_view said,
             std::optional<models::Milestone> asks, bool cuts) {
  const auto found = piece_of(session, given.words, given.vehicle);
  send(session, Detail{found.piece->id},
       [&](const wording::Words& words) { return words.say(said, {piece_value(words, found)}); });
  if (session.globals().json) {
    return;
  }
  if (asks) {
    fmt::print("{}", advice(*found.piece, *asks, session.words()));
  }
  if (cuts) {
    fmt::print("{}\n", session.say("cautions.advice"));
  }
}

void wrap(Session& session, const Given& given) {
  do_step<EdgeWrapped>(session, given, "client.wrapped", models::Milestone::wrap_ready, true);
}
void trim(Session& session, const Given& given) {
  do_step<Trimmed>(session, given, "client.trimmed", models::Milestone::trim_ready, true);
}
void open(Session& session, const Given& given) {
  do_step<EdgeOpened>(session, given, "client.opened", std::nullopt, false);
}
void refit(Session& session, const Given& given) {
  do_step<Refitted>(session, given, "client.refitted", models::Milestone::refit_ready, false);
}
void remove(Session& session, const Given& given) {
  do_step<PieceRemoved>(session, given, "client.pulled", std::nullopt, false);
}

void inspect(Session& session, const Given& given) {
  auto words_given = given.words;
  const auto seen = take_last(words_given, 2, "the zone and what you found (edge clear)");
  const auto found = piece_of(session, words_given, given.vehicle);
  const Inspected inspected{found.piece->id, word_of<models::ZoneKind>(seen[0], "zone"),
                            word_of<models::Finding>(seen[1], "finding")};
  send(session, inspected, [&](const wording::Words& words) {
    return words.say("client.inspected",
                     {piece_value(words, found), say::text("zone", words.word("zone", inspected.zone)),
                      say::text("finding", words.word("finding", inspected.finding))});
  });
}

void heat(Session& session, const GivenHeat& given) {
  auto words_given = given.words;
  const auto how =
      take_last(words_given, 3, "the source, the surface temperature and the minutes (heat-gun 55C 3)");
  const auto celsius = parse_temperature(how[1]);
  if (!celsius) {
    throw Failure(ExitCode::usage, "surface temperature: " + celsius.error().what);
  }
  const auto minutes = number_of<double>(how[2]);
  if (!minutes || !(*minutes > 0.0 && *minutes <= minutes_bounds.most)) {
    throw Failure(ExitCode::usage,
                  fmt::format("\"{}\" is no number of minutes up to {}", how[2], minutes_bounds.most));
  }
  HeatApplied heated;
  heated.source = word_of<HeatSource>(how[0], "source of heat");
  heated.surface_c = *celsius;
  heated.minutes = *minutes;
  if (!given.zone.empty()) {
    heated.zone = word_of<models::ZoneKind>(given.zone, "zone");
  }
  heated.area_m2 = given.area;
  heated.tool_w = given.tool;
  const auto found = piece_of(session, words_given, given.vehicle);
  heated.piece = found.piece->id;
  send(session, heated, [&](const wording::Words& words) {
    std::vector<Value> values{piece_value(words, found), say::number("surface", Measure::celsius, *celsius),
                              say::text("minutes", words.number(*minutes, 2))};
    if (!heated.zone) {
      return words.say("client.heated", values);
    }
    values.push_back(say::text("zone", words.word("zone", *heated.zone)));
    return words.say("client.heated-zone", values);
  });
  if (!session.globals().json) {
    fmt::print("{}\n", session.say("cautions.heat"));
  }
}

void not_needed(Session& session, const GivenStep& given) {
  auto words_given = given.words;
  const auto step = take_last(words_given, 1, "the step (wrap, trim or refit)").front();
  constexpr std::array milestones{models::Milestone::wrap_ready, models::Milestone::trim_ready,
                                  models::Milestone::refit_ready};
  const auto which = milestones[index_of(step, "step", {"wrap", "trim", "refit"})];
  const auto found = piece_of(session, words_given, given.vehicle);
  send(session, NotNeeded{found.piece->id, which, given.after_all}, [&](const wording::Words& words) {
    return words.say(given.after_all ? "client.needed-after-all" : "client.not-needed",
                     {piece_value(words, found), say::text("step", step)});
  });
}

void add_lay_options(CLI::App& command, const std::shared_ptr<GivenLay>& given) {
  command.add_option("--part", given->part, "Which piece of how many on this panel: 1/2");
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

void add_heat_options(CLI::App& command, const std::shared_ptr<GivenHeat>& given) {
  command.add_option("--zone", given->zone, "Where: field, edge, recess or turn; left out: along the edges");
  command.add_option("--area", given->area, "That was swept [m2]; left out: all of the zone")
      ->check(CLI::Range(heated_area_bounds.least, heated_area_bounds.most));
  command.add_option("--tool", given->tool, "What the tool draws [W]")
      ->check(CLI::Range(tool_bounds.least, tool_bounds.most))
      ->capture_default_str();
}

}  // namespace

void add_piece_commands(CLI::App& app, Action& action) {
  const auto begin = [&]<class Of>(const char* name, const char* text, const char* words_text,
                                   const std::shared_ptr<Of>& given, void (*what)(Session&, const Of&)) {
    auto* command = app.add_subcommand(name, text);
    command->add_option("piece", given->words, words_text)->required();
    command->add_option("-v,--vehicle", given->vehicle, "On which vehicle: reference or number");
    command->callback([given, what, &action] { action = [given, what](Session& s) { what(s, *given); }; });
    return command;
  };
  const auto add = [&](const char* name, const char* text, const char* words_text,
                       void (*what)(Session&, const Given&)) {
    begin(name, text, words_text, std::make_shared<Given>(), what);
  };
  const auto add_laying = [&](const char* name, const char* text, const char* words_name,
                              const char* words_text, void (*what)(Session&, const GivenLay&)) {
    const auto given = std::make_shared<GivenLay>();
    auto* command = app.add_subcommand(name, text);
    command->add_option(words_name, given->words, words_text)->required();
    command->add_option("-v,--vehicle", given->vehicle,
                        "On which vehicle; may be left out where there is one");
    add_lay_options(*command, given);
    if (what == lay_piece) {
      command->add_flag("--own-words", given->own_words,
                        "The panel is not in the catalogue: take it as written");
    }
    command->callback([given, what, &action] { action = [given, what](Session& s) { what(s, *given); }; });
  };
  const auto heated = std::make_shared<GivenHeat>();
  const auto step = std::make_shared<GivenStep>();
  constexpr auto piece = "Its number, or its panel and part: bonnet, bonnet 2";

  add_laying("lay", "A piece of film was laid", "panel",
             "The panel, in UK, US or German words: bonnet, front bumper", lay_piece);
  add_laying("relay",
             "A piece was pulled and laid again; what is not said of film, solution, wetness and zones stays "
             "as it was",
             "piece", piece, lay_again);
  add("inspect", "What you saw and felt: it teaches the estimate",
      "The piece, the zone (field, edge, recess, turn) and the finding (wet, hazy, clear, lifting)", inspect);
  add("wrap", "The edges were wrapped", piece, wrap);
  add("trim", "The edges were trimmed", piece, trim);
  add("open", "An edge was opened: it dries faster", piece, open);
  add("refit", "The parts around it were refitted", piece, refit);
  add("remove", "The piece was pulled off and not laid again", piece, remove);
  add_heat_options(
      *begin("heat", "A part of the piece was heated for some minutes",
             "The piece, the source (heat-gun, lamp, sun), the surface temperature and the minutes", heated,
             heat),
      heated);
  begin("not-needed",
        "Nobody will do this step on the piece: it is announced no more, and nothing waits for it",
        "The piece and the step (wrap, trim or refit)", step, not_needed)
      ->add_flag("--after-all", step->after_all, "Somebody will do it after all");
}

}  // namespace dryclock::cli
