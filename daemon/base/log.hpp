// One log for the process. The format string is checked at compile time; spdlog stays behind log.cpp.
#pragma once

#include <fmt/core.h>

#include <string>
#include <string_view>

namespace dryclock::log {

enum class Level { debug, info, warning, error };

// To standard error; under systemd with the "<n>" priorities that the journal reads.
void start(Level least, bool for_systemd);
[[nodiscard]] bool enabled(Level level);
void write(Level level, std::string_view line);

template <class... Args>
void at(Level level, fmt::format_string<Args...> format, Args&&... args) {
  if (enabled(level)) {
    write(level, fmt::format(format, std::forward<Args>(args)...));
  }
}
template <class... Args>
void debug(fmt::format_string<Args...> format, Args&&... args) {
  at(Level::debug, format, std::forward<Args>(args)...);
}
template <class... Args>
void info(fmt::format_string<Args...> format, Args&&... args) {
  at(Level::info, format, std::forward<Args>(args)...);
}
template <class... Args>
void warning(fmt::format_string<Args...> format, Args&&... args) {
  at(Level::warning, format, std::forward<Args>(args)...);
}
template <class... Args>
void error(fmt::format_string<Args...> format, Args&&... args) {
  at(Level::error, format, std::forward<Args>(args)...);
}

}  // namespace dryclock::log
