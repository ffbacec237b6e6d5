// Whether an event can be: what it refers to exists, and it comes in an order in which work is done. Times
// may lie in the past (entered late), never ahead.
#pragma once

#include "domain/refusal.hpp"
#include "domain/setup.hpp"
#include "engine/open_alerts.hpp"
#include "engine/sensor_registry.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

// `first_seq` is the first journal row that this
// engine has seen: a recheck may speak of a piece from before it.
[[nodiscard]] Allowed check_event(const Event& event, const Shop& shop, const Setup& setup,
                                  const OpenAlerts& alerts, const SensorRegistry& sensors, Time now,
                                  Seq first_seq);

// Whether its dates can be meant: not for what is in the journal already, only for what is entered now.
[[nodiscard]] Allowed check_dates(const Event& event, Time now);

}  // namespace dryclock::engine
