// What the daemon says of a vehicle, as its rows hold it.
#pragma once

#include "domain/announced.hpp"
#include "domain/learnt.hpp"
#include "domain/shown.hpp"
#include "domain/types.hpp"
#include "wire/announced_json.hpp"
#include "wire/learnt_json.hpp"
#include "wire/shown_json.hpp"

namespace dryclock::app {

[[nodiscard]] inline RawMessage shown_message(const Shown& shown, Time at) {
  RawMessage message;
  message.topic = shown_topic(shown.vehicle ? shown.vehicle->vehicle : 0);
  message.payload = wire::to_json(shown);
  message.received_at = at;
  return message;
}

[[nodiscard]] inline RawMessage announced_message(const Announced& announced, Time at) {
  RawMessage message;
  message.topic = shown_topic(announced.vehicle);
  message.payload = wire::to_json(announced);
  message.received_at = at;
  return message;
}

[[nodiscard]] inline RawMessage learnt_message(const Learnt& learnt, Time at) {
  RawMessage message;
  message.topic = shown_topic(learnt.vehicle);
  message.payload = wire::to_json(learnt);
  message.received_at = at;
  return message;
}

}  // namespace dryclock::app
