#include "base/plain_words.hpp"

#include <fmt/format.h>

#include <cmath>

namespace dryclock {

std::string span(Millis length) {
  using std::chrono::days, std::chrono::floor, std::chrono::hours, std::chrono::minutes;
  const auto whole_days = floor<days>(length);
  const auto whole_hours = floor<hours>(length);
  const auto tail = [](std::int64_t count, const char* unit) {
    return count == 0 ? std::string{} : fmt::format(" {} {}", count, unit);
  };
  if (whole_days > days{0}) {
    return fmt::format("{} day{}", whole_days.count(), whole_days == days{1} ? "" : "s") +
           tail((whole_hours - whole_days).count(), "h");
  }
  const auto left = floor<minutes>(length - whole_hours).count();
  return whole_hours > hours{0} ? fmt::format("{} h", whole_hours.count()) + tail(left, "min")
                                : fmt::format("{} min", left);
}

std::string short_span(Millis length) {
  using std::chrono::seconds;
  return length < seconds{120} ? fmt::format("{} s", std::chrono::floor<seconds>(length).count())
                               : span(length);
}

std::string percent(double share, int decimals) {
  return std::isfinite(share) ? fmt::format("{:.{}f} %", 100.0 * share, decimals) : "-";
}

}  // namespace dryclock
