#include "base/log.hpp"

#include <spdlog/sinks/stdout_color_sinks.h>
#include <spdlog/sinks/stdout_sinks.h>
#include <spdlog/spdlog.h>

#include <memory>

namespace dryclock::log {
namespace {

spdlog::level::level_enum to_spdlog(Level level) {
  switch (level) {
    case Level::debug:
      return spdlog::level::debug;
    case Level::info:
      return spdlog::level::info;
    case Level::warning:
      return spdlog::level::warn;
    case Level::error:
      return spdlog::level::err;
  }
  return spdlog::level::info;
}

// The journal reads "<6>text" as priority 6 and stamps the time itself.
std::string_view systemd_priority(Level level) {
  switch (level) {
    case Level::debug:
      return "<7>";
    case Level::info:
      return "<6>";
    case Level::warning:
      return "<4>";
    case Level::error:
      return "<3>";
  }
  return "<6>";
}

bool systemd_style = false;

}  // namespace

void start(Level least, bool for_systemd) {
  systemd_style = for_systemd;
  auto logger = for_systemd ? spdlog::stderr_logger_mt("dryclock") : spdlog::stderr_color_mt("dryclock");
  logger->set_pattern(for_systemd ? "%v" : "%Y-%m-%dT%H:%M:%S.%e %^%-7l%$ %v");
  logger->set_level(to_spdlog(least));
  logger->flush_on(spdlog::level::info);
  spdlog::set_default_logger(std::move(logger));
}

bool enabled(Level level) {
  return spdlog::should_log(to_spdlog(level));
}

void write(Level level, std::string_view line) {
  if (systemd_style) {
    spdlog::log(to_spdlog(level), "{}{}", systemd_priority(level), line);
  } else {
    spdlog::log(to_spdlog(level), "{}", line);
  }
}

}  // namespace dryclock::log
