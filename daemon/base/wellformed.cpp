#include "base/wellformed.hpp"

#include <algorithm>

namespace dryclock {
namespace {

constexpr std::size_t longest_topic = 65535;  // an MQTT string's length is 16 bits

std::string wrong_with_any_topic(std::string_view topic) {
  if (topic.empty()) {
    return "is empty";
  }
  if (topic.size() > longest_topic) {
    return "is longer than 65535 bytes";
  }
  if (topic.find('\0') != std::string_view::npos) {
    return "holds a NUL character";
  }
  return "";
}

}  // namespace

std::string wrong_with_topic_filter(std::string_view filter) {
  if (auto wrong = wrong_with_any_topic(filter); !wrong.empty()) {
    return wrong;
  }
  for (std::size_t i = 0; i < filter.size(); ++i) {
    const bool starts_level = i == 0 || filter[i - 1] == '/';
    const bool ends = i + 1 == filter.size();
    if (filter[i] == '#' && !(starts_level && ends)) {
      return "\"#\" may only be the whole last level";
    }
    if (filter[i] == '+' && !(starts_level && (ends || filter[i + 1] == '/'))) {
      return "\"+\" may only be a whole level";
    }
  }
  return "";
}

std::string wrong_with_topic_base(std::string_view base) {
  if (auto wrong = wrong_with_any_topic(base); !wrong.empty()) {
    return wrong;
  }
  if (base.find_first_of("+#") != std::string_view::npos) {
    return "holds a wildcard";
  }
  if (base.front() == '$') {
    return "starts with \"$\", which is the broker's";
  }
  return base.back() == '/' ? "ends with \"/\"" : "";
}

std::string wrong_with_pointer(std::string_view pointer) {
  if (!pointer.empty() && pointer.front() != '/') {
    return "a JSON pointer starts with \"/\"";
  }
  for (std::size_t i = 0; i < pointer.size(); ++i) {
    if (pointer[i] == '~' && (i + 1 == pointer.size() || (pointer[i + 1] != '0' && pointer[i + 1] != '1'))) {
      return "\"~\" must be followed by 0 or 1 (\"~0\" is ~, \"~1\" is /)";
    }
  }
  return "";
}

std::string pointer_token(std::string_view key) {
  std::string token;
  for (const char c : key) {
    token += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
  }
  return token;
}

std::string wrong_with_key(std::string_view key) {
  constexpr std::string_view allowed = "abcdefghijklmnopqrstuvwxyz0123456789-";
  return key.find_first_not_of(allowed) == std::string_view::npos
             ? ""
             : "only lower-case letters, digits and \"-\" may be in a key";
}

std::string wrong_with_name(std::string_view name) {
  const auto unfit = [](char c) {
    return c == '/' || c == '+' || c == '#' || static_cast<unsigned char>(c) < 0x20;
  };
  return std::none_of(name.begin(), name.end(), unfit) ? "" : "\"/\", \"+\" and \"#\" may not be in a name";
}

}  // namespace dryclock
