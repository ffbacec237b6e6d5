#include "cli/show.hpp"

#include "cli/event_text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/plain_words.hpp"
#include "base/temperature_words.hpp"
#include "cli/naming.hpp"
#include "cli/table.hpp"
#include "cli/temperature.hpp"
#include "cli/validity_words.hpp"
#include "domain/milestones.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

using models::Milestone;

constexpr double still_sure = 0.85;

std::string when(const std::optional<Time>& t, const LocalZone& zone) {
  return t ? zone.weekday_clock(*t) : "-";
}

// Done, ready, or when it is likely.
std::string milestone_cell(const PieceSummary& piece, Milestone milestone, const LocalZone& zone) {
  const auto& view = piece.milestones[static_cast<std::size_t>(milestone)];
  if (done_at(piece, milestone)) {
    return "done";
  }
  if (view.announced) {
    // It stands until somebody sees otherwise; that the estimate has fallen since is said.
    return view.probability < still_sure ? "READY, now " + percent(view.probability) : "READY";
  }
  if (view.probability >= 0.5) {
    return "likely " +
           percent(view.probability);  // the likely time is past, but it is not sure enough to say
  }
  return view.expected.likely ? zone.weekday_clock(*view.expected.likely) : percent(view.probability);
}

// What holds back the next step that is not done.
std::string next_obstacle(const PieceSummary& piece) {
  for (const auto& view : piece.milestones) {
    if (!done_at(piece, view.which) && !view.announced && !view.held_by.empty()) {
      return view.held_by;
    }
  }
  return "";
}

std::string air_line(const BaySummary& bay, const CatalogueView& shop, const LocalZone& zone) {
  std::string line = fmt::format("{}{}:", bay.name, bay.gone ? " (no longer in the settings)" : "");
  if (!bay.air_c && !bay.rh_pct) {
    return line + " no readings yet\n";
  }
  const auto add = [&](std::string_view name, const std::optional<double>& celsius) {
    if (celsius) {
      line += fmt::format("  {} {}", name, show_temperature(*celsius, shop.site.fahrenheit()));
    }
  };
  add("air", bay.air_c);
  if (bay.rh_pct) {
    line += fmt::format("  {:.0f} %RH", *bay.rh_pct);
  }
  add("panel", bay.panel_c);
  add("dew point", bay.dew_point_c);
  if (bay.pace) {
    line += fmt::format("  pace {:.2f}", *bay.pace);
  }
  return line + fmt::format("  ({})\n", when(bay.as_of, zone));
}

std::string vehicle_lines(const VehicleSummary& vehicle, const LocalZone& zone) {
  auto out = fmt::format("{} (vehicle {}), bay {}\n", vehicle.reference, vehicle.id, vehicle.bay);
  if (vehicle.hand_over) {
    out += fmt::format("  hand-over agreed   {}, ready by then: {}\n", zone.weekday_clock(*vehicle.hand_over),
                       percent(vehicle.hand_over_probability));
  }
  if (vehicle.released) {
    out += fmt::format("  released           {}\n", zone.date_clock(*vehicle.released));
  } else if (vehicle.release_ready) {
    out += fmt::format("  RELEASE-READY      since {}\n", zone.weekday_clock(*vehicle.release_ready));
  } else if (!vehicle.pieces.empty() || vehicle.release_expected.likely) {
    const auto expected = show_spread(vehicle.release_expected, zone);
    out += fmt::format("  release-ready      {}{}\n", expected.empty() ? "not within the outlook" : expected,
                       vehicle.to_lay.empty() ? "" : ", if what is still to lay is laid now");
    if (!vehicle.held_by.empty()) {
      out += fmt::format("  held back by       {}\n", vehicle.held_by);
    }
  }
  return out;
}

std::string alert_lines(const AlertSummary& alert, const CatalogueView& shop, const LocalZone& zone) {
  auto out = fmt::format("{:<8} {}  {}  [{}]{}\n", name_of(alert.level), zone.weekday_clock(alert.raised),
                         in_shop_unit(alert.text, shop), alert.id,
                         alert.cleared        ? " over " + zone.weekday_clock(*alert.cleared)
                         : alert.acknowledged ? " acknowledged"
                                              : "");
  if (!alert.cleared && !alert.advice.empty()) {
    out += fmt::format("         {}\n", in_shop_unit(alert.advice, shop));
  }
  return out;
}

// "by Sat 14:20"; past that, what chance is left; empty where nobody knows.
std::string lay_by(const PieceToLay& piece, const LocalZone& zone) {
  if (piece.lay_by) {
    return "by " + zone.weekday_clock(*piece.lay_by);
  }
  return piece.chance_now ? fmt::format("late: {} to be dry in time", percent(*piece.chance_now)) : "";
}

// "  still to lay: front bumper (by Sat 14:20), mirror 2/2"
std::string to_lay_line(const VehicleSummary& vehicle, const CatalogueView& shop, const LocalZone& zone) {
  std::string list;
  for (const auto& planned : vehicle.to_lay) {
    const auto when = lay_by(planned, zone);
    list += (list.empty() ? "" : ", ") + panel_label(shop, planned.panel, planned.part, planned.parts) +
            (when.empty() ? "" : " (" + when + ")");
  }
  return list.empty() || vehicle.released ? "" : fmt::format("  still to lay: {}\n", list);
}

std::string quantiles(const models::Quantiles& q, double scale, int digits) {
  return fmt::format("{:.{}f} ({:.{}f} to {:.{}f})", q.likely * scale, digits, q.low * scale, digits,
                     q.high * scale, digits);
}

// A key as it is shown; `kind` as in PieceSummary::gone.
std::string with_gone(const std::string& shown, const PieceSummary& piece, CatalogueKind kind) {
  const bool gone = std::find(piece.gone.begin(), piece.gone.end(), kind) != piece.gone.end();
  return shown + (gone ? " (no longer in the catalogue)" : "");
}

std::string piece_lines(const PieceSummary& piece, const CatalogueView& shop, const LocalZone& zone) {
  auto out = fmt::format("\n  {} (piece {}), {}, {}, {}, laid {}\n",
                         with_gone(piece_label(shop, piece), piece, CatalogueKind::panel), piece.id,
                         with_gone(piece.film, piece, CatalogueKind::film),
                         with_gone(piece.solution, piece, CatalogueKind::solution), name_of(piece.wetness),
                         zone.weekday_clock(piece.laid));
  if (piece.removed) {
    return out + fmt::format("    removed {}\n", zone.weekday_clock(*piece.removed));
  }
  if (piece.replaced_by) {
    return out + fmt::format("    replaced by piece {}\n", *piece.replaced_by);
  }
  for (const auto& [name, text] :
       {std::pair{"tension", piece.notes.tension}, std::pair{"relief cuts", piece.notes.relief_cuts},
        std::pair{"joins", piece.notes.joins}}) {
    if (!text.empty()) {
      out += fmt::format("    {}: {}\n", name, text);
    }
  }
  Table zones({"zone", "water g/m2", "film's own moisture %", "bond %", "standard hours to go"});
  for (const auto& z : piece.state.zones) {
    zones.row({std::string(name_of(z.kind)), quantiles(z.water, 1.0, 1), quantiles(z.excess, 100.0, 0),
               quantiles(z.bond, 100.0, 0), quantiles(z.hours_to_go, 1.0, 1)});
  }
  Table steps({"step", "probable now", "likely (early to late)", "held back by"});
  for (const auto& m : piece.milestones) {
    const auto done = done_at(piece, m.which);
    const auto state = done          ? "done " + zone.weekday_clock(*done)
                       : m.announced ? "READY since " + zone.weekday_clock(*m.announced)
                                     : show_spread(m.expected, zone);
    steps.row({std::string(name_of(m.which)), percent(m.probability), state, m.held_by});
  }
  out += zones.text(4) + steps.text(4);
  for (const auto& early : piece.early_steps) {
    out += fmt::format("    done early: {} at {} (event {}){}\n", early.step, percent(early.probability),
                       early.event, early.still_wet.empty() ? "" : ", still wet: " + early.still_wet);
  }
  for (const auto& word : validity_words(piece.state.validity)) {
    out += fmt::format("    caution: {}\n", word);
  }
  return out;
}

}  // namespace

std::string in_shop_unit(const std::string& sentence, const CatalogueView& shop) {
  return shop.site.fahrenheit() ? in_fahrenheit(sentence) : sentence;
}

std::string show_spread(const Spread& spread, const LocalZone& zone) {
  if (!spread.likely) {
    return spread.early ? fmt::format("{} at the earliest", zone.weekday_clock(*spread.early)) : "";
  }
  return fmt::format("{} ({} to {})", zone.weekday_clock(*spread.likely), when(spread.early, zone),
                     spread.late ? zone.weekday_clock(*spread.late) : "beyond the outlook");
}

std::string show_board(const Board& board, const CatalogueView& shop, const LocalZone& zone) {
  auto out = fmt::format("{}{}\n", shop.site.name.empty() ? "" : shop.site.name + ", ",
                         zone.weekday_clock(board.now));
  for (const auto& bay : board.bays) {
    out += air_line(bay, shop, zone);
  }
  bool any = false;
  for (const auto& vehicle : board.vehicles) {
    if (!in_shop(vehicle)) {
      continue;
    }
    any = true;
    out += "\n" + vehicle_lines(vehicle, zone);
    Table table({"#", "piece", "laid", "wrap", "trim", "refit", "dry", "held back by"});
    for (const auto& piece : vehicle.pieces) {
      if (laid_now(piece)) {
        table.row({std::to_string(piece.id), piece_label(shop, piece), zone.weekday_clock(piece.laid),
                   milestone_cell(piece, Milestone::wrap_ready, zone),
                   milestone_cell(piece, Milestone::trim_ready, zone),
                   milestone_cell(piece, Milestone::refit_ready, zone),
                   milestone_cell(piece, Milestone::dry, zone), next_obstacle(piece)});
      }
    }
    out += table.empty() ? "  nothing laid yet\n" : table.text(2);
    out += to_lay_line(vehicle, shop, zone);
  }
  if (!any) {
    out += "\nNo vehicle in the shop.\n";
  }
  if (!board.alerts.empty()) {
    out += "\nAlerts\n";
    for (const auto& alert : board.alerts) {
      out += alert_lines(alert, shop, zone);
    }
  }
  return out;
}

std::string show_vehicle(const VehicleSummary& vehicle, const CatalogueView& shop, const LocalZone& zone) {
  auto out = vehicle_lines(vehicle, zone) + to_lay_line(vehicle, shop, zone);
  for (const auto& piece : vehicle.pieces) {
    out += piece_lines(piece, shop, zone);
  }
  return out;
}

std::string show_vehicles(const Board& board, const LocalZone& zone) {
  Table table({"#", "reference", "bay", "arrived", "hand-over", "pieces", "state"});
  for (const auto& vehicle : board.vehicles) {
    table.row({std::to_string(vehicle.id), vehicle.reference, vehicle.bay, zone.date_clock(vehicle.arrived),
               vehicle.hand_over ? zone.date_clock(*vehicle.hand_over) : "-",
               std::to_string(vehicle.pieces.size()),
               vehicle.released        ? "released " + zone.date_clock(*vehicle.released)
               : vehicle.release_ready ? "release-ready"
                                       : "drying"});
  }
  return table.empty() ? "No vehicle yet.\n" : table.text(0);
}

std::string show_alerts(const std::vector<AlertSummary>& alerts, const CatalogueView& shop,
                        const LocalZone& zone) {
  std::string out;
  for (const auto& alert : alerts) {
    out += alert_lines(alert, shop, zone);
  }
  return out.empty() ? "No alert.\n" : out;
}

std::string show_handed_over(const std::vector<HandedOver>& vehicles, Time now, const LocalZone& zone) {
  Table table({"#", "reference", "handed over", "recheck from", "to", "state"});
  for (const auto& vehicle : vehicles) {
    const auto done =
        std::ranges::count_if(vehicle.pieces, [](const auto& p) { return p.rechecked.has_value(); });
    const auto all = std::ssize(vehicle.pieces);
    const std::string state = all > 0 && done == all        ? "rechecked"
                              : now < vehicle.recheck_from  ? "not due yet"
                              : now < vehicle.recheck_until ? "RECHECK DUE"
                                                            : "recheck overdue";
    table.row({std::to_string(vehicle.vehicle), vehicle.reference, zone.date_clock(vehicle.released),
               zone.date_clock(vehicle.recheck_from).substr(0, 10),
               zone.date_clock(vehicle.recheck_until).substr(0, 10),
               done > 0 && done < all ? fmt::format("{}, {} of {} pieces done", state, done, all) : state});
  }
  return table.empty() ? "No vehicle was handed over in the last 60 days.\n" : table.text(0);
}

std::string show_air(const std::vector<AirPoint>& points, const CatalogueView& shop, const LocalZone& zone) {
  Table table({"time", "air", "RH", "panel", "dew point", "pace", ""});
  const auto degrees = [&](double celsius) {
    return std::isnan(celsius) ? std::string("-") : show_temperature(celsius, shop.site.fahrenheit());
  };
  for (const auto& p : points) {
    table.row({zone.weekday_clock(p.at), degrees(p.air_c), fmt::format("{:.0f} %", p.rh_pct),
               degrees(p.panel_c), degrees(p.dew_point_c), fmt::format("{:.2f}", p.pace),
               p.bridged ? "no readings" : ""});
  }
  return table.empty() ? "No readings in that time.\n" : table.text(0);
}

std::string show_events(const std::vector<Event>& events, const LocalZone& zone) {
  Table table({"#", "when", "what", "who", "", "note"});
  for (const auto& e : events) {
    table.row({std::to_string(e.seq), zone.date_clock(e.at), std::string{event_names[e.detail.index()]},
               e.who, event_text(e.detail), e.note});
  }
  return table.empty() ? "No event.\n" : table.text(0);
}

// "  not readings: 3 not-json, 1 unknown-topic"; nothing where nothing was counted.
template <class E, std::size_t n>
static std::string show_counts(std::string_view what, const std::array<std::uint64_t, n>& counts) {
  std::string list;
  for (std::size_t i = 0; i < n; ++i) {
    if (counts[i] > 0) {
      list += fmt::format("{} {} {}", list.empty() ? "" : ",", counts[i], words<E>[i]);
    }
  }
  return list.empty() ? list : fmt::format("  {}:{}\n", what, list);
}

static std::string show_space(const Space& space) {
  const auto size = [](auto bytes) {
    const auto value = static_cast<double>(bytes);
    return value < 1e9 ? fmt::format("{:.1f} MB", value / 1e6) : fmt::format("{:.1f} GB", value / 1e9);
  };
  std::string rate = "how long it lasts is known after an hour";
  if (space.years_left) {
    constexpr double most_years = 100.0;
    rate = fmt::format(
        "{} a day: {}", size(space.bytes_per_day),
        *space.years_left > most_years
            ? "enough for more than 100 years"
            : fmt::format("enough for {:.{}f} years", *space.years_left, *space.years_left < 10.0 ? 1 : 0));
  }
  return fmt::format("  database {}, seal {}, {} free; {}; nothing is ever removed\n",
                     size(space.database_bytes), size(space.seal_bytes), size(space.free_bytes), rate);
}

std::string show_status(const Health& health, const Board& board, const CatalogueView& shop,
                        const LocalZone& zone) {
  auto out = fmt::format("dryclockd {}, {}, since {}\n", health.version, health.ok ? "well" : "NOT WELL",
                         zone.date_clock(health.started));
  for (const auto& part : health.parts) {
    out += fmt::format("  {:<10} {}  {}\n", part.name, part.ok ? "ok " : "BAD", part.text);
  }
  if (health.space) {
    out += show_space(*health.space);
  }
  const auto& c = board.counters;
  out += fmt::format("  {} messages, {} readings, {} events since the start\n", c.messages, c.readings,
                     c.events);
  out += show_counts<RejectReason>("not readings", c.rejects);
  out += show_counts<Verdict>("readings", c.verdict);
  Table table({"sensor", "bay", "quantity", "value", "when", "verdict"});
  for (const auto& bay : board.bays) {
    for (const auto& s : bay.sensors) {
      const bool degrees = usual_unit(s.quantity) == Unit::celsius;
      const auto value = !s.value  ? "-"
                         : degrees ? show_temperature(*s.value, shop.site.fahrenheit())
                                   : fmt::format("{:.1f}", *s.value);
      table.row({s.sensor, s.bay, std::string(name_of(s.quantity)), value, when(s.at, zone),
                 std::string(name_of(s.last_verdict))});
    }
  }
  return table.empty() ? out : out + table.text(2);
}

}  // namespace dryclock::cli
