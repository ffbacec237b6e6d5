#include "cli/show.hpp"

#include <algorithm>
#include <array>

#include "cli/naming.hpp"
#include "cli/table.hpp"
#include "domain/milestones.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

using models::Milestone;
using wording::Words;

constexpr double still_sure = 0.85;
// What a hand does, or the vehicle: the board's columns.
constexpr std::array steps{Milestone::wrap_ready, Milestone::trim_ready, Milestone::refit_ready,
                           Milestone::may_leave};
constexpr std::size_t name_width = 19;
constexpr std::size_t level_width = 9;

// When it is foreseen to be called ready, and when that is as likely as not; else the chance now.
std::string foreseen(const MilestoneView& view, Time now, const Words& words) {
  const auto likely = say::text("likely", when(view.expected.likely, now, words));
  if (view.announces) {
    const auto at = words.when(*view.announces, now);
    return view.expected.likely ? words.say("client-board.foreseen-likely", {say::text("at", at), likely})
                                : at;
  }
  return view.expected.likely ? words.say("client-board.likely-at", {likely})
                              : show_chance(view.probability, words);
}

// Not needed, done, ready, worth a look, or when it is foreseen.
std::string milestone_cell(const PieceSummary& piece, Milestone milestone, Time now, const Words& words) {
  const auto& view = milestone_of(piece, milestone);
  const auto chance = say::text("chance", show_chance(view.probability, words));
  if (done_at(piece, milestone)) {
    return words.say("client-board.done");
  }
  if (!view.needed) {
    return words.say("client-board.not-needed");
  }
  if (view.announced) {
    // It stands until somebody sees otherwise; that the estimate has fallen since is said.
    return view.by_word                    ? words.say("client-board.ready-by-word")
           : view.probability < still_sure ? words.say("client-board.ready-doubtful", {chance})
                                           : words.say("client-board.ready");
  }
  if (view.look) {
    return words.say("client-board.look", {chance});
  }
  return piece.state.zones.empty() ? "-" : foreseen(view, now, words);
}

// Whether somebody still waits for it.
bool is_awaited(const PieceSummary& piece, Milestone milestone) {
  const auto& view = milestone_of(piece, milestone);
  return view.needed && !view.announced && !done_at(piece, milestone);
}

// What holds back the next step that is not done.
std::string next_obstacle(const PieceSummary& piece, const Words& words) {
  for (const Milestone step : steps) {
    if (is_awaited(piece, step)) {
      if (auto why = words.fact(milestone_of(piece, step).held_by); !why.empty()) {
        return why;
      }
    }
  }
  return "";
}

// "bonnet (wrap, trim), front bumper 1/2 (leave)": where a look decides most.
std::string worth_a_look(const VehicleSummary& vehicle, const Words& words) {
  std::string pieces;
  for (const auto& piece : vehicle.pieces) {
    std::string list;
    for (const Milestone step : steps) {
      if (laid_now(piece) && is_awaited(piece, step) && milestone_of(piece, step).look) {
        list += (list.empty() ? "" : ", ") + words.say(key_of("client-board.step-", step));
      }
    }
    if (!list.empty()) {
      pieces += (pieces.empty() ? "" : ", ") +
                words.say("client-board.look-piece",
                          {say::text("piece", piece_label(words, piece)), say::text("steps", list)});
    }
  }
  return pieces;
}

std::string air_line(const BaySummary& bay, Time now, const Words& words) {
  auto line =
      words.say(bay.gone ? "client-board.bay-gone" : "client-board.bay", {say::text("bay", bay.name)}) + ":";
  if (!bay.air_c && !bay.rh_pct) {
    return line + " " + words.say("client-board.no-readings-yet") + "\n";
  }
  const auto add = [&](std::string_view key, const std::string& value) {
    line += "  " + words.say(key, {say::text("value", value)});
  };
  const auto add_degrees = [&](std::string_view key, const std::optional<double>& celsius) {
    if (celsius) {
      add(key, words.temperature(*celsius));
    }
  };
  add_degrees("client-board.air", bay.air_c);
  if (bay.rh_pct) {
    line += "  " + words.say("units.humidity", {say::text("n", words.fixed(*bay.rh_pct, 0))});
  }
  add_degrees("client-board.panel", bay.panel_c);
  add_degrees("client-board.dew-point", bay.dew_point_c);
  if (bay.pace) {
    add("client-board.pace", words.fixed(*bay.pace, 2));
  }
  return line + "  (" + when(bay.as_of, now, words) + ")\n";
}

// When it is foreseen to be called fit to leave, when that is likely, the chance now, and with what all that
// is reckoned.
std::string release_expected(const VehicleSummary& vehicle, Time now, const Words& words) {
  const auto spread = show_spread(vehicle.release_expected, now, words);
  const std::vector<Value> values{say::text("at", when(vehicle.release_announces, now, words)),
                                  say::text("spread", spread),
                                  say::text("chance", show_chance(vehicle.release_probability, words))};
  auto expected = spread.empty() ? words.say("client-board.beyond", values)
                                 : words.say(vehicle.release_announces ? "client-board.release-foreseen"
                                                                       : "client-board.release-likely",
                                             values);
  return vehicle.to_lay.empty() ? expected
                                : words.say("client-board.with-plan", {say::text("expected", expected)});
}

// Whether there is an estimate of when it is: none before the first piece, nor before its first readings.
bool is_estimated(const VehicleSummary& vehicle) {
  return vehicle.release_expected.likely ||
         std::ranges::any_of(vehicle.pieces, [](const PieceSummary& piece) {
           return laid_now(piece) && !piece.state.zones.empty();
         });
}

std::string since(Time at, Time now, const Words& words) {
  return words.say("client-board.since", {say::text("at", words.when(at, now))});
}

// Of a vehicle that is not called fit to leave.
void add_release_ahead(Named& lines, const VehicleSummary& vehicle, Time now, const Words& words) {
  const auto add = [&](std::string_view key, std::string what) {
    lines.emplace_back(words.say(key), std::move(what));
  };
  if (vehicle.release_look) {
    add("client-board.release-look", since(*vehicle.release_look, now, words));
  }
  if (is_estimated(vehicle)) {
    add("client-board.release-expected", release_expected(vehicle, now, words));
  }
  if (auto look = worth_a_look(vehicle, words); !look.empty()) {
    add("client-board.look-at", std::move(look));
  }
  const bool begun = !vehicle.pieces.empty() || vehicle.release_expected.likely;
  if (auto why = words.fact(vehicle.held_by); begun && !why.empty()) {
    add("client-board.held-by", std::move(why));
  }
}

std::string vehicle_lines(const VehicleSummary& vehicle, Time now, const Words& words) {
  Named lines;
  const auto add = [&](std::string_view key, std::string what) {
    lines.emplace_back(words.say(key), std::move(what));
  };
  if (vehicle.hand_over) {
    const auto at = words.when(*vehicle.hand_over, now);
    const bool is_open = !vehicle.released && !vehicle.release_ready && is_estimated(vehicle);
    add("client-board.agreed",
        is_open && vehicle.hand_over_probability
            ? words.say("client-board.ready-by-then",
                        {say::text("at", at),
                         say::text("chance", show_chance(*vehicle.hand_over_probability, words))})
            : at);
  }
  if (vehicle.released) {
    add("client-board.released", words.zone().date_clock(*vehicle.released));
  } else if (vehicle.release_ready) {
    add("client-board.release-ready", since(*vehicle.release_ready, now, words));
  } else {
    add_release_ahead(lines, vehicle, now, words);
  }
  if (vehicle.full_strength && *vehicle.full_strength > now) {
    add("client-board.full-strength", words.say("client-board.full-strength-at",
                                                {say::text("at", words.when(*vehicle.full_strength, now))}));
  }
  return words.say("client-board.vehicle",
                   {say::text("reference", vehicle.reference),
                    say::text("number", std::to_string(vehicle.id)), say::text("bay", vehicle.bay)}) +
         "\n" + named_lines(lines, 2, name_width);
}

std::string alert_lines(const AlertSummary& alert, Time now, const Words& words) {
  auto out = padded(words.say(key_of("client-board.level-", alert.level)), level_width) +
             words.when(alert.raised, now) + "  " + words.sentence(alert.what) + "  [" + alert.id + "]";
  if (alert.cleared) {
    out += " " + words.say("client-board.over", {say::text("at", words.when(*alert.cleared, now))});
  } else if (alert.acknowledged) {
    out += " " + words.say("client-board.acknowledged");
  }
  out += "\n";
  if (const auto advice = words.sentence(alert.advice); !alert.cleared && !advice.empty()) {
    out += std::string(level_width, ' ') + advice + "\n";
  }
  return out;
}

// By when it may be laid; past that, what chance is left; the piece alone where nobody knows.
std::string planned_piece(const PieceToLay& piece, Time now, const Words& words) {
  auto label = piece_label(words, piece);
  if (piece.lay_by) {
    return words.say("client-board.to-lay-by",
                     {say::text("piece", label), say::text("at", words.when(*piece.lay_by, now))});
  }
  return piece.chance_now ? words.say("client-board.to-lay-late",
                                      {say::text("piece", label),
                                       say::text("chance", show_chance(*piece.chance_now, words))})
                          : label;
}

// "  still to lay: front bumper (by Sat 14:20), mirror 2/2"
std::string to_lay_line(const VehicleSummary& vehicle, Time now, const Words& words) {
  std::string list;
  for (const auto& planned : vehicle.to_lay) {
    list += (list.empty() ? "" : ", ") + planned_piece(planned, now, words);
  }
  return list.empty() || vehicle.released
             ? ""
             : "  " + words.say("client-board.to-lay", {say::text("pieces", list)}) + "\n";
}

std::string piece_table(const VehicleSummary& vehicle, Time now, const Words& words) {
  Table table(
      heads(words, {"#", "client-board.head-piece", "client-board.head-laid", "client-board.step-wrap-ready",
                    "client-board.step-trim-ready", "client-board.step-refit-ready",
                    "client-board.step-may-leave", "client-board.head-held-by"}));
  for (const auto& piece : vehicle.pieces) {
    if (laid_now(piece)) {
      std::vector row{std::to_string(piece.id), piece_label(words, piece), words.when(piece.laid, now)};
      for (const Milestone step : steps) {
        row.push_back(milestone_cell(piece, step, now, words));
      }
      row.push_back(next_obstacle(piece, words));
      table.row(std::move(row));
    }
  }
  return table.empty() ? "  " + words.say("client-board.nothing-laid") + "\n" : table.text(2);
}

}  // namespace

std::string when(const std::optional<Time>& t, Time now, const Words& words) {
  return t ? words.when(*t, now) : "-";
}

std::string show_spread(const Spread& spread, Time now, const Words& words) {
  const auto early = say::text("early", when(spread.early, now, words));
  if (!spread.likely) {
    return spread.early ? words.say("client-board.earliest", {early}) : "";
  }
  return words.say(spread.late ? "client-board.spread" : "client-board.spread-open",
                   {early, say::text("likely", words.when(*spread.likely, now)),
                    say::text("late", when(spread.late, now, words))});
}

std::string show_chance(double chance, const Words& words) {
  constexpr double least = 0.01, most = 0.99;
  return chance < least  ? words.say("client-board.chance-under", {say::text("chance", words.share(least))})
         : chance > most ? words.say("client-board.chance-over", {say::text("chance", words.share(most))})
                         : words.share(chance);
}

std::vector<std::string> heads(const Words& words, std::initializer_list<std::string_view> keys) {
  std::vector<std::string> all;
  std::ranges::transform(keys, std::back_inserter(all), [&](std::string_view key) { return words.say(key); });
  return all;
}

std::string show_board(const Board& board, const std::string& shop, const Words& words) {
  auto out = (shop.empty() ? "" : shop + ", ") + words.when(board.now, board.now) + "\n";
  for (const auto& bay : board.bays) {
    out += air_line(bay, board.now, words);
    for (const auto& ask : bay.to_look) {
      out += "  " +
             words.say("client-board.plate", {say::text("plate", std::to_string(ask.plate)),
                                              say::text("what", words.sentence(ask.what))}) +
             "\n";
    }
  }
  for (const auto& vehicle : board.vehicles) {
    if (in_shop(vehicle)) {
      out += "\n" + vehicle_lines(vehicle, board.now, words) + piece_table(vehicle, board.now, words) +
             to_lay_line(vehicle, board.now, words);
    }
  }
  if (std::ranges::none_of(board.vehicles, in_shop)) {
    out += "\n" + words.say("client-board.no-vehicle") + "\n";
  }
  if (!board.alerts.empty()) {
    out += "\n" + words.say("client-board.alerts") + "\n" + show_alerts(board.alerts, board.now, words);
  }
  return out;
}

std::string show_vehicle(const VehicleSummary& vehicle, Time now, const Words& words) {
  auto out = vehicle_lines(vehicle, now, words) + to_lay_line(vehicle, now, words);
  for (const auto& piece : vehicle.pieces) {
    out += show_piece(piece, now, words);
  }
  return out;
}

std::string show_alerts(const std::vector<AlertSummary>& alerts, Time now, const Words& words) {
  std::string out;
  for (const auto& alert : alerts) {
    out += alert_lines(alert, now, words);
  }
  return out.empty() ? words.say("client-board.no-alert") + "\n" : out;
}

}  // namespace dryclock::cli
