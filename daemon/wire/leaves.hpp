// How single values are read, for all readers of this folder. Each function returns what is wrong; empty: it
// was taken.
#pragma once

#include <fmt/format.h>

#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <string>

#include "base/time.hpp"
#include "wire/marks.hpp"

namespace dryclock::wire {

namespace json = boost::json;

[[nodiscard]] inline std::string must_be(std::string_view what, const json::value& value) {
  return fmt::format("must be {}, not {}", what, json::serialize(value));
}

[[nodiscard]] inline std::string read_leaf(const json::value& value, std::string& into) {
  const auto* text = value.if_string();
  if (text == nullptr) {
    return must_be("a text", value);
  }
  into.assign(text->data(), text->size());
  return {};
}
[[nodiscard]] inline std::string read_leaf(const json::value& value, bool& into) {
  const auto* truth = value.if_bool();
  if (truth == nullptr) {
    return must_be("true or false", value);
  }
  into = *truth;
  return {};
}
[[nodiscard]] inline std::string read_leaf(const json::value& value, double& into) {
  if (!value.is_number()) {
    return must_be("a number", value);
  }
  into = value.to_number<double>();
  return {};
}
template <Whole T>
[[nodiscard]] std::string read_leaf(const json::value& value, T& into) {
  boost::system::error_code error;
  const T number = value.to_number<T>(error);  // whole, and within the type
  if (error) {
    return must_be("a whole number", value);
  }
  into = number;
  return {};
}
[[nodiscard]] inline std::string read_leaf(const json::value& value, Time& into) {
  if (!value.is_string()) {
    return must_be("a time as RFC 3339", value);
  }
  const auto time = parse_rfc3339(value.get_string());
  if (!time) {
    return to_string(time.error());
  }
  into = *time;
  return {};
}
template <Word E>
[[nodiscard]] std::string read_leaf(const json::value& value, E& into) {
  const auto* text = value.if_string();
  const auto known = text == nullptr ? std::nullopt : from_name<E>(*text);
  if (!known) {
    return must_be(fmt::format("one of {}", fmt::join(words<E>, ", ")), value);
  }
  into = *known;
  return {};
}

// Makes room for a list's elements; `wrong` stays empty where that was possible.
template <List T>
[[nodiscard]] const json::array* list_for(const json::value& value, T& into, std::string& wrong) {
  const auto* list = value.if_array();
  if constexpr (requires { into.resize(0); }) {
    wrong = list == nullptr ? "must be a list" : "";
    into.clear();
    into.resize(list == nullptr ? 0 : list->size());
  } else {
    wrong = list == nullptr || list->size() != into.size() ? fmt::format("must be a list of {}", into.size())
                                                           : "";
  }
  return wrong.empty() ? list : nullptr;
}

}  // namespace dryclock::wire
