// Messages on their way out, as the database keeps them until their channel says that they are delivered.
#pragma once

#include <cstdint>
#include <string>

#include "domain/effects.hpp"

namespace dryclock {

struct OutboxRow {
  std::int64_t id = 0;
  Outgoing message;
  int attempts = 0;  // failed ones so far
  Time next_at;      // not to be tried before
};

enum class OutboxStep : std::uint8_t { delivered, failed, given_up };

// What became of one attempt.
struct OutboxMark {
  std::int64_t id = 0;
  OutboxStep step = OutboxStep::delivered;
  Time next_at;     // failed: when to try again
  std::string why;  // failed, given up
};

}  // namespace dryclock
