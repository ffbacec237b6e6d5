// The payload of a `learnt` row: domain/learnt.hpp.
//   {"vehicle":7,"at":"2026-03-04T17:02:00.000Z","release":61,"after":61,"pieces":[
//    {"piece":9,"film":"baseline","measurement":0,"panel":"bonnet","zones":[
//     {"kind":"edge","usual_g_m2":3.5,"margin":{"width_m":0.005,"openness":0.1,"opened":1},"seen":[
//      {"sign":"clear","seconds":32040,"drunk_g_m2":[...],"front_squared_m2":0.0000021,
//       "at":"2026-03-02T22:14:00.000Z","event":31}]}]}]}
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "domain/learnt.hpp"

namespace dryclock::wire {

[[nodiscard]] std::string to_json(const Learnt& learnt);

// `vehicle`: that the topic names (shown_vehicle). What a later program says beside is passed over; all else
// must be there.
// Problem: not JSON, a value of another kind, one that is missing or that no program could have meant
// (`where`: JSON pointer).
[[nodiscard]] Result<Learnt> read_learnt(VehicleId vehicle, std::string_view text);

}  // namespace dryclock::wire
