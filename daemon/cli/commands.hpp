// The sub-commands, by what they are about. Each sets `action` to what it does when it was chosen; parsing
// comes first, so that a wrong command line does nothing.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/session.hpp"
#include "domain/names.hpp"

namespace CLI {
class App;
}

namespace dryclock::cli {

using Action = std::function<void(Session&)>;

// board, status, events, alerts, ack, note, undo
void add_shop_commands(CLI::App& app, Action& action);
// vehicle in, list, show, plan, move, hand-over, release; lamp
void add_vehicle_commands(CLI::App& app, Action& action);
// lay, relay
void add_lay_commands(CLI::App& app, Action& action);
// remove, inspect, wrap, trim, open, refit, heat, not-needed
void add_piece_commands(CLI::App& app, Action& action);
// air (a bay's, or computed), dry
void add_air_commands(CLI::App& app, Action& action);
// sensors: list, find, assign, retire, check, export
void add_sensor_commands(CLI::App& app, Action& action);
// check, below sensors
void add_check_command(CLI::App& sensors, Action& action);
// coupon: list, lay, weigh, store
void add_coupon_commands(CLI::App& app, Action& action);
// plate: list, lay, seen
void add_plate_commands(CLI::App& app, Action& action);
// bond: list, lay, pull, store
void add_bond_commands(CLI::App& app, Action& action);
// find
void add_find_command(CLI::App& app, Action& action);
// A vehicle by reference or number, also one that has left; empty: the only one in the shop. Failure{usage}:
// none is, or several were called so.
[[nodiscard]] VehicleId find_any_vehicle(Session& session, const std::string& name);
// record, receipt, handover, forget
void add_record_commands(CLI::App& app, Action& action);
// recheck
void add_aftercare_commands(CLI::App& app, Action& action);
// pair
void add_pair_command(CLI::App& app, Action& action);
// rechecks
void add_rechecks_command(CLI::App& app, Action& action);
// learned
void add_learned_command(CLI::App& app, Action& action);
// verify
void add_verify_command(CLI::App& app, Action& action);

// The board: what the client shows without a command.
void show_board_command(Session& session);

// What `vehicle list --handed-over` shows.
void list_handed_over(Session& session);

// What was done, in the words of whoever reads it.
using Done = std::function<std::string(const wording::Words&)>;
// That which one message says.
[[nodiscard]] Done done(std::string_view key, std::vector<Value> values);

// Sends an event and prints what was done with its time and number (or, with --json, the daemon's answer, and
// makes no words). Plate and customer go with an arrival. Where the words cannot be made nothing is sent.
void send(Session& session, EventDetail detail, const Done& what, const std::string& plate = {},
          const std::string& customer = {});

// Where `word` stands among `known`; else Failure{usage} with the words there are. `name` stands in the
// message.
[[nodiscard]] std::size_t index_of(const std::string& word, std::string_view name,
                                   const std::vector<std::string_view>& known);
// The value of an enumeration's word.
template <class E>
[[nodiscard]] E word_of(const std::string& word, std::string_view name) {
  return static_cast<E>(index_of(word, name, {words<E>.begin(), words<E>.end()}));
}

// "bonnet" "2" -> "bonnet 2"
[[nodiscard]] std::string joined(const std::vector<std::string>& words);

}  // namespace dryclock::cli
