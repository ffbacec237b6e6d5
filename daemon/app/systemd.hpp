// What systemd is told (sd_notify): nothing where the daemon was started by hand.
#pragma once

#include <optional>
#include <string_view>

#include "base/time.hpp"

namespace dryclock::app {

// Started with Type=notify by systemd.
[[nodiscard]] bool under_systemd();
void tell_ready(std::string_view status);
void tell_stopping();
void tell_alive();
// Half of WatchdogSec: how often tell_alive() has to be called; absent: no watchdog.
[[nodiscard]] std::optional<Millis> watchdog_interval();

}  // namespace dryclock::app
