// What the page said at one moment, as `shown` rows keep it. Nothing follows from it in the engine: it is for
// the record, where what was said then must not change with settings or program.
#pragma once

#include <array>
#include <charconv>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "domain/effects.hpp"
#include "domain/names.hpp"
#include "domain/view.hpp"

namespace dryclock {

// What a row was written for.
enum class ShownWhy : std::uint8_t {
  deed,        // the event in the row right after it
  announced,   // a milestone or the release was called reached, or worth a look
  taken_back,  // likewise, that it is not after all
  alert,       // alerts were raised, changed, seen or cleared
  delivered,   // a message about an alert reached its channel, or was given up
  hourly,
};

template <>
inline constexpr std::array words<ShownWhy>{std::string_view{"deed"},       std::string_view{"announced"},
                                            std::string_view{"taken-back"}, std::string_view{"alert"},
                                            std::string_view{"delivered"},  std::string_view{"hourly"}};
template <>
inline constexpr std::array words<AlertStep>{std::string_view{"raised"}, std::string_view{"cleared"},
                                             std::string_view{"seen"}, std::string_view{"changed"}};

// Of a piece's milestone, or of the vehicle's release. Once it is announced there is no more to say; else
// what is absent is as before.
struct ShownMilestone {
  double probability = 0.0;
  std::optional<Time> announced{};
  std::optional<Time> look{};  // worth a look since then; absent once it is announced
  bool by_word = false;
  std::optional<Spread> expected{};
  std::optional<models::ZoneKind> limiting{};  // the zone that holds it back; of a release none
  std::string held_by{};                       // in words; only where a deed asks for this milestone
  bool operator==(const ShownMilestone&) const = default;
};

// What is absent is as the vehicle's rows before it said: they leave out what has hardly changed, and
// milestones whose step is done.
struct ShownPiece {
  PieceId piece = 0;
  std::array<std::optional<ShownMilestone>, models::milestone_kinds> milestones;
  std::optional<models::Quantiles> water;  // g/m2, of the zone that holds most
  std::optional<models::Quantiles> bond;   // of the zone that holds least
  bool operator==(const ShownPiece&) const = default;
};

struct ShownVehicle {
  VehicleId vehicle = 0;
  std::optional<ShownMilestone> release;        // absent: as before
  std::optional<double> hand_over_probability;  // likewise
  std::vector<ShownPiece> pieces;
  bool operator==(const ShownVehicle&) const = default;
};

struct ShownAlert {
  AlertRule rule = AlertRule::bay_cold;
  std::string subject;
  AlertStep step = AlertStep::raised;
  std::optional<AlertLevel> level;  // where it was raised
  std::string text;                 // where it was raised or changed
  bool operator==(const ShownAlert&) const = default;
};

struct ShownDelivery {
  std::string channel;
  std::string alert;                    // its id
  std::optional<std::string> given_up;  // why; absent: it was delivered
  bool operator==(const ShownDelivery&) const = default;
};

// A row's payload. Times are kept to the minute (rounded down), probabilities and bond to 1/1000, water to
// 0.1 g/m2.
struct Shown {
  ShownWhy why = ShownWhy::hourly;
  Time at;  // that the view was of
  std::optional<ShownVehicle> vehicle;
  std::vector<ShownAlert> alerts;
  std::vector<ShownDelivery> deliveries;
  bool operator==(const Shown&) const = default;
};

// A row that says nothing yet; `vehicle` 0: of the shop.
[[nodiscard]] inline Shown empty_row(ShownWhy why, Time at, VehicleId vehicle) {
  Shown row;
  row.why = why;
  row.at = at;
  if (vehicle != 0) {
    row.vehicle.emplace().vehicle = vehicle;
  }
  return row;
}

// The row's topic: whose view it is; empty for what concerns the shop.
[[nodiscard]] inline std::string shown_topic(VehicleId vehicle) {
  return vehicle == 0 ? std::string{} : "vehicle/" + std::to_string(vehicle);
}
// 0: none.
[[nodiscard]] inline VehicleId shown_vehicle(std::string_view topic) {
  constexpr std::string_view before = "vehicle/";
  VehicleId vehicle = 0;
  if (topic.starts_with(before)) {
    topic.remove_prefix(before.size());
    std::from_chars(topic.data(), topic.data() + topic.size(), vehicle);
  }
  return vehicle;
}

}  // namespace dryclock
