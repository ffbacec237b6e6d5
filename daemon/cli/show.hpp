// What the client prints for people. Pure: views and words in, text out. Times are local; `now` tells which
// of them need no date.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "domain/answers.hpp"
#include "domain/names.hpp"
#include "domain/view.hpp"
#include "wording/words.hpp"

namespace dryclock::cli {

// The morning's answer: bays, vehicles in the shop with their pieces, open alerts. `shop`: its name; may be
// empty.
[[nodiscard]] std::string show_board(const Board& board, const std::string& shop,
                                     const wording::Words& words);
// One vehicle with every zone and milestone, ended pieces included.
[[nodiscard]] std::string show_vehicle(const VehicleSummary& vehicle, Time now, const wording::Words& words);
[[nodiscard]] std::string show_alerts(const std::vector<AlertSummary>& alerts, Time now,
                                      const wording::Words& words);

// show_piece.cpp: a piece with its zones and steps.
[[nodiscard]] std::string show_piece(const PieceSummary& piece, Time now, const wording::Words& words);

// show_lists.cpp
[[nodiscard]] std::string show_vehicles(const Board& board, const wording::Words& words);
// Vehicles that have left, and when each is due for its recheck.
[[nodiscard]] std::string show_handed_over(const std::vector<HandedOver>& vehicles, Time now,
                                           const wording::Words& words);
// A bay's next hours, each with what may have to be minded then.
[[nodiscard]] std::string show_air_ahead(const std::vector<AirHourAhead>& hours, Time now,
                                         const wording::Words& words);
[[nodiscard]] std::string show_air(const std::vector<AirPoint>& points, Time now,
                                   const wording::Words& words);
[[nodiscard]] std::string show_events(const std::vector<Event>& events, const wording::Words& words);

// show_status.cpp
[[nodiscard]] std::string show_status(const Health& health, const Board& board, const wording::Words& words);
// A reading, in its unit; "-" for none.
[[nodiscard]] std::string show_reading(std::optional<double> value, Quantity quantity,
                                       const wording::Words& words);
// "3 no JSON"
[[nodiscard]] std::string show_count(std::uint64_t n, const std::string& what, const wording::Words& words);
// How a check came out: "agrees".
[[nodiscard]] Value verdict_value(models::SensorVerdict verdict);
// How a coupon is called: by its number.
[[nodiscard]] inline Value coupon_value(Seq id) {
  return say::text("coupon", std::to_string(id));
}

// show_rechecks.cpp: a table with each group's interval as a bar.
[[nodiscard]] std::string show_rechecks(const RecheckReport& report, const wording::Words& words);

// show_learned.cpp: what the shop has shown, as sentences.
[[nodiscard]] std::string show_learned(const LearnedView& learned, Time now, const wording::Words& words);

// "Sun 09:10"; "-" for none.
[[nodiscard]] std::string when(const std::optional<Time>& t, Time now, const wording::Words& words);
// "Sun 09:10 (Sun 07:50 to Sun 11:30)": likely, early and late; empty where the outlook does not reach it.
[[nodiscard]] std::string show_spread(const Spread& spread, Time now, const wording::Words& words);
// "87 %"; of what is hardly ever or nearly sure a bound, since no estimate is: "under 1 %".
[[nodiscard]] std::string show_chance(double chance, const wording::Words& words);
// A message for each value of an enumeration: "client-board.level-" and "warning".
template <class E>
std::string key_of(std::string_view beginning, E of) {
  return std::string{beginning} + std::string{name_of(of)};
}
// A table's heads: messages by their keys, with what is no key as it stands.
[[nodiscard]] std::vector<std::string> heads(const wording::Words& words,
                                             std::initializer_list<std::string_view> keys);

}  // namespace dryclock::cli
