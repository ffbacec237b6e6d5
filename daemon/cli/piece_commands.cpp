#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <memory>

#include "base/number_text.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/naming.hpp"
#include "cli/piece_named.hpp"
#include "cli/show.hpp"
#include "cli/temperature.hpp"
#include "domain/event_fields.hpp"
#include "domain/milestones.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

using Given = GivenPiece;

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

// The zone that is to be looked at where nobody says which: the edge, or the only one.
models::ZoneKind zone_to_look_at(const PieceSummary& piece) {
  const auto edge = std::ranges::find(piece.zones, models::ZoneKind::edge);
  if (edge == piece.zones.end() && piece.zones.size() != 1) {
    throw Failure(ExitCode::usage, "say which zone, before what you found");
  }
  return edge == piece.zones.end() ? piece.zones.front() : *edge;
}

void inspect(Session& session, const Given& given) {
  auto words_given = given.words;
  const auto finding = word_of<models::Finding>(
      take_last(words_given, 1, "the zone and what you found (edge clear)").front(), "finding");
  std::optional<models::ZoneKind> zone = from_name<models::ZoneKind>(words_given.back());
  if (zone) {
    (void)take_last(words_given, 1, "the zone and what you found (edge clear)");
  }
  const auto found = piece_of(session, words_given, given.vehicle);
  const Inspected inspected{found.piece->id, zone ? *zone : zone_to_look_at(*found.piece), finding};
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
    return begin(name, text, words_text, std::make_shared<Given>(), what);
  };
  const auto heated = std::make_shared<GivenHeat>();
  const auto step = std::make_shared<GivenStep>();
  constexpr auto piece = piece_help;

  add("inspect", "What you saw and felt: it teaches the estimate",
      "The piece, the zone (field, edge, recess, turn; left out: the edge) and the finding (wet, hazy, "
      "clear, "
      "lifting)",
      inspect)
      ->alias("look");
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
