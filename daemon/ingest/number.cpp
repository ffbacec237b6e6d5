#include "ingest/number.hpp"

#include <charconv>
#include <cmath>

namespace dryclock::ingest {
namespace {

// Numbers from here on are milliseconds, below it seconds: 1e11 s is the year 5138.
constexpr double first_millis = 1e11;
constexpr double most_millis = 1e15;

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blanks);
  return first == std::string_view::npos ? std::string_view{}
                                         : text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

}  // namespace

Result<double, RejectReason> number_in(std::string_view text) {
  std::string_view digits = trimmed(text);
  if (digits.starts_with('+') && !digits.starts_with("+-")) {
    digits.remove_prefix(1);
  }
  double value = 0.0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  const bool whole = end == digits.data() + digits.size();
  if (!whole || error == std::errc::invalid_argument) {
    return RejectReason::not_a_number;
  }
  if (error != std::errc{} || !std::isfinite(value)) {  // 1e400, nan
    return RejectReason::not_finite;
  }
  return value;
}

std::optional<Time> instant_in(double since_1970) {
  const double millis = std::abs(since_1970) < first_millis ? since_1970 * 1000.0 : since_1970;
  if (!(std::abs(millis) < most_millis)) {
    return std::nullopt;
  }
  return from_unix_ms(static_cast<std::int64_t>(std::llround(millis)));
}

}  // namespace dryclock::ingest
