#include "http/target.hpp"

#include <algorithm>
#include <optional>

#include "http/message.hpp"

namespace dryclock::http {
namespace {

std::optional<unsigned> hex_digit(char c) {
  if (c >= '0' && c <= '9') {
    return static_cast<unsigned>(c - '0');
  }
  const char lower = static_cast<char>(c | 0x20);
  if (lower >= 'a' && lower <= 'f') {
    return static_cast<unsigned>(lower - 'a') + 10U;
  }
  return std::nullopt;
}

std::optional<std::string> percent_decoded(std::string_view text) {
  std::string decoded;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '%') {
      decoded += text[i];
      continue;
    }
    if (i + 2 >= text.size()) {
      return std::nullopt;
    }
    const auto high = hex_digit(text[i + 1]);
    const auto low = hex_digit(text[i + 2]);
    if (!high || !low || (*high == 0 && *low == 0)) {
      return std::nullopt;
    }
    decoded += static_cast<char>(*high << 4U | *low);
    i += 2;
  }
  return decoded;
}

// The text before the next `end`, taken off `rest` together with it.
std::string_view take_until(std::string_view& rest, char end) {
  const std::size_t at = std::min(rest.find(end), rest.size());
  const std::string_view taken = rest.substr(0, at);
  rest.remove_prefix(std::min(at + 1, rest.size()));
  return taken;
}

}  // namespace

Result<Target> parse_target(std::string_view text) {
  const Problem escape{"a percent escape that stands for no character", "target"};
  if (!std::all_of(text.begin(), text.end(), [](char c) { return c > 0x20 && c < 0x7f; })) {
    return Problem{"a request target holds visible ASCII characters only", "target"};
  }
  Target target;
  constexpr std::string_view scheme = "http://";
  if (lower_case(text.substr(0, scheme.size())) == scheme) {
    text.remove_prefix(scheme.size());
    const std::size_t path = std::min(text.find_first_of("/?"), text.size());
    target.host = text.substr(0, path);
    text.remove_prefix(path);
    if (target.host.empty()) {
      return Problem{"no host in the target", "target"};
    }
  } else if (text.empty() || text.front() != '/') {
    return Problem{"a request target begins with '/'", "target"};
  }
  std::string_view path = take_until(text, '?');
  std::string_view query = take_until(text, '#');
  if (!path.empty()) {
    path.remove_prefix(1);
  }
  while (!path.empty()) {
    const bool more = path.find('/') != std::string_view::npos;
    auto segment = percent_decoded(take_until(path, '/'));
    if (!segment) {
      return escape;
    }
    target.segments.push_back(std::move(*segment));
    if (more && path.empty()) {
      target.segments.emplace_back();  // "/a/" is not "/a"
    }
  }
  while (!query.empty()) {
    std::string_view parameter = take_until(query, '&');
    const auto name = percent_decoded(take_until(parameter, '='));
    const auto value = percent_decoded(parameter);
    if (!name || !value) {
      return escape;
    }
    if (!target.query.emplace(*name, *value).second) {
      return Problem{"given twice", *name};
    }
  }
  return target;
}

}  // namespace dryclock::http
