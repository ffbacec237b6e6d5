#include "app/systemd.hpp"

#include <fmt/format.h>
#include <systemd/sd-daemon.h>

#include <cstdlib>

namespace dryclock::app {

bool under_systemd() {
  return std::getenv("NOTIFY_SOCKET") != nullptr;
}

void tell_ready(std::string_view status) {
  sd_notify(0, fmt::format("READY=1\nSTATUS={}", status).c_str());
}

void tell_stopping() {
  sd_notify(0, "STOPPING=1");
}

void tell_alive() {
  sd_notify(0, "WATCHDOG=1");
}

std::optional<Millis> watchdog_interval() {
  std::uint64_t microseconds = 0;
  if (sd_watchdog_enabled(0, &microseconds) <= 0) {
    return std::nullopt;
  }
  return std::chrono::floor<Millis>(std::chrono::microseconds{microseconds / 2});
}

}  // namespace dryclock::app
