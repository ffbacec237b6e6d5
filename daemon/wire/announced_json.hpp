// The payload of an `announced` row: domain/announced.hpp.
//   {"vehicle":7,"at":"2026-03-02T22:14:00.000Z",
//    "announcements":[{"piece":9,"which":"wrap-ready","word":"ready","probability":0.91}]}
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "domain/announced.hpp"

namespace dryclock::wire {

[[nodiscard]] std::string to_json(const Announced& announced);

// `vehicle`: that the topic names (shown_vehicle). What a later program says beside is passed over; all else
// must be there, for what is announced follows from nothing else.
// Problem: not JSON, a value of another kind, one that is missing or that no program could have meant
// (`where`: JSON pointer).
[[nodiscard]] Result<Announced> read_announced(VehicleId vehicle, std::string_view text);

}  // namespace dryclock::wire
