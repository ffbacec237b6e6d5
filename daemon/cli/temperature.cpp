#include "cli/temperature.hpp"

#include <fmt/core.h>

#include <charconv>

namespace dryclock::cli {

Result<double> parse_temperature(std::string_view text) {
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  std::string_view unit(end, static_cast<std::size_t>(text.data() + text.size() - end));
  while (unit.starts_with(' ')) {
    unit.remove_prefix(1);
  }
  if (error != std::errc{} || !(unit.empty() || unit == "C" || unit == "c" || unit == "F" || unit == "f")) {
    return Problem{fmt::format("\"{}\" is no temperature: write 21, 21C or 70F", text), ""};
  }
  if (unit == "F" || unit == "f") {
    value = (value - 32.0) / 1.8;
  }
  if (!(value >= -90.0 && value <= 200.0)) {
    return Problem{fmt::format("{} is outside -90 to 200 C", text), ""};
  }
  return value;
}

}  // namespace dryclock::cli
