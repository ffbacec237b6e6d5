#include <algorithm>
#include <cmath>

#include "cli/event_text.hpp"
#include "cli/show.hpp"
#include "cli/table.hpp"

namespace dryclock::cli {
namespace {

using wording::Words;

std::string vehicle_state(const VehicleSummary& vehicle, const Words& words) {
  if (vehicle.released) {
    return words.say("client-board.state-released",
                     {say::text("at", words.zone().date_clock(*vehicle.released))});
  }
  return words.say(vehicle.release_ready  ? "client-board.state-ready"
                   : vehicle.release_look ? "client-board.state-look"
                                          : "client-board.state-drying");
}

std::string recheck_state(const HandedOver& vehicle, Time now, const Words& words) {
  const auto done =
      std::ranges::count_if(vehicle.pieces, [](const auto& p) { return p.rechecked.has_value(); });
  const auto all = std::ssize(vehicle.pieces);
  const auto state = words.say(all > 0 && done == all        ? "client-board.recheck-done"
                               : now < vehicle.recheck_from  ? "client-board.recheck-not-due"
                               : now < vehicle.recheck_until ? "client-board.recheck-due"
                                                             : "client-board.recheck-overdue");
  return done > 0 && done < all
             ? words.say("client-board.recheck-partly",
                         {say::text("state", state), say::count("done", done), say::count("all", all)})
             : state;
}

// Of the message that says what happened: what is no longer agreed or planned is told as that.
std::string what_key(const EventDetail& detail) {
  const auto* agreed = std::get_if<HandOverAgreed>(&detail);
  const auto* planned = std::get_if<Planned>(&detail);
  const std::string_view what = agreed != nullptr && !agreed->hand_over         ? "no-hand-over"
                                : planned != nullptr && planned->pieces.empty() ? "nothing-planned"
                                                                                : event_names[detail.index()];
  return "client-events.what-" + std::string{what};
}

}  // namespace

std::string show_vehicles(const Board& board, const Words& words) {
  Table table(
      heads(words, {"#", "client-board.head-reference", "client-board.head-bay", "client-board.head-arrived",
                    "client-board.head-hand-over", "client-board.head-pieces", "client-board.head-state"}));
  const auto& zone = words.zone();
  for (const auto& vehicle : board.vehicles) {
    table.row({std::to_string(vehicle.id), vehicle.reference,
               words.say("client-board.place", {say::text("bay", vehicle.bay)}),
               zone.date_clock(vehicle.arrived),
               vehicle.hand_over ? zone.date_clock(*vehicle.hand_over) : "-",
               std::to_string(vehicle.pieces.size()), vehicle_state(vehicle, words)});
  }
  return table.empty() ? words.say("client-board.no-vehicle-yet") + "\n" : table.text(0);
}

std::string show_handed_over(const std::vector<HandedOver>& vehicles, Time now, const Words& words) {
  Table table(
      heads(words, {"#", "client-board.head-reference", "client-board.head-handed-over",
                    "client-board.head-recheck-from", "client-board.head-until", "client-board.head-state"}));
  constexpr std::size_t date = 10;  // characters
  const auto& zone = words.zone();
  for (const auto& vehicle : vehicles) {
    table.row({std::to_string(vehicle.vehicle), vehicle.reference, zone.date_clock(vehicle.released),
               zone.date_clock(vehicle.recheck_from).substr(0, date),
               zone.date_clock(vehicle.recheck_until).substr(0, date), recheck_state(vehicle, now, words)});
  }
  return table.empty() ? words.say("client-board.none-handed-over") + "\n" : table.text(0);
}

std::string show_air(const std::vector<AirPoint>& points, Time now, const Words& words) {
  Table table(
      heads(words, {"client-board.head-time", "client-board.head-air", "client-board.head-humidity",
                    "client-board.head-panel", "client-board.head-dew-point", "client-board.head-pace", ""}));
  const auto degrees = [&](double celsius) {
    return std::isnan(celsius) ? std::string("-") : words.temperature(celsius);
  };
  for (const auto& p : points) {
    table.row({words.when(p.at, now), degrees(p.air_c), words.share(p.rh_pct / 100.0), degrees(p.panel_c),
               degrees(p.dew_point_c), words.fixed(p.pace, 2),
               p.bridged ? words.say("client-board.bridged") : ""});
  }
  return table.empty() ? words.say("client-board.no-readings") + "\n" : table.text(0);
}

std::string show_air_ahead(const std::vector<AirHourAhead>& hours, Time now, const Words& words) {
  Table table(heads(words, {"client-board.head-time", "client-board.head-air", "client-board.head-humidity",
                            "client-board.head-pace", ""}));
  const auto band = [&](const models::Quantiles& of, auto text) {
    return words.say("client.outlook-band",
                     {say::text("likely", text(of.likely)), say::text("low", text(of.low)),
                      say::text("high", text(of.high))});
  };
  constexpr double worth_saying = 0.1;
  for (const auto& hour : hours) {
    std::string minds;
    for (const auto& [key, chance] :
         {std::pair{"client.outlook-cold", hour.cold}, std::pair{"client.outlook-damp", hour.damp},
          std::pair{"client.outlook-dew", std::optional{hour.dew}}}) {
      if (chance.value_or(0.0) >= worth_saying) {
        minds += (minds.empty() ? "" : ", ") + words.say(key, {say::text("chance", words.share(*chance))});
      }
    }
    table.row({words.when(hour.at, now), band(hour.air_c, [&](double c) { return words.temperature(c); }),
               band(hour.rh_pct, [&](double percent) { return words.share(percent / 100.0); }),
               band(hour.pace, [&](double pace) { return words.fixed(pace, 2); }), minds});
  }
  return table.empty() ? words.say("client.outlook-none") + "\n" : table.text(0);
}

std::string show_events(const std::vector<Event>& events, const Words& words) {
  Table table(heads(words, {"#", "client-events.head-when", "client-events.head-what",
                            "client-events.head-who", "", "client-events.head-note"}));
  for (const auto& e : events) {
    table.row({std::to_string(e.seq), words.zone().date_clock(e.at), words.say(what_key(e.detail)), e.who,
               event_text(e.detail, words), e.note});
  }
  return table.empty() ? words.say("client-events.none") + "\n" : table.text(0);
}

}  // namespace dryclock::cli
