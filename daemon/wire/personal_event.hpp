// Plate and customer as the page and the client send them with an arrival: "plate" and "customer" beside the
// event's own fields. They are taken off before anything is journalled.
#pragma once

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace dryclock::wire {

struct SplitEvent {
  std::string json;             // without them; as it came where there are none
  std::string plate, customer;  // empty: not given
};

// Problem: they are not texts of at most 200 bytes, or the event brings a commitment, which only the daemon
// makes. The problem never repeats what was sent. What is no event at all is left to parse_event().
[[nodiscard]] Result<SplitEvent> split_personal(std::string_view text);

// The other way: what a client sends.
[[nodiscard]] std::string with_personal(const std::string& event_json, const std::string& plate,
                                        const std::string& customer);

}  // namespace dryclock::wire
