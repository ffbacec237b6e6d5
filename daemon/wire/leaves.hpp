// What the texts of all rows share: how a field's list is named, and how words, texts and whole numbers are
// read. `json` is a value of the JSON library, which stays out of this header.
#pragma once

#include <concepts>
#include <string>
#include <type_traits>

#include "domain/names.hpp"

namespace dryclock::wire {

// Fields are listed once, for the writer (const) and the reader.
template <class Given, class Wanted>
concept Of = std::same_as<std::remove_const_t<Given>, Wanted>;

template <class T>
concept Word = std::is_enum_v<T>;
template <class T>
concept Whole = std::integral<T> && !std::same_as<T, bool>;

// Each returns what is wrong with it; empty: it was taken.
[[nodiscard]] std::string take_leaf(const auto& json, std::string& into) {
  const auto* text = json.if_string();
  if (text == nullptr) {
    return "must be a text";
  }
  into.assign(text->data(), text->size());
  return {};
}
[[nodiscard]] std::string take_leaf(const auto& json, Whole auto& into) {
  const auto* number = json.if_int64();
  if (number == nullptr) {
    return "must be a whole number";
  }
  into = static_cast<std::remove_reference_t<decltype(into)>>(*number);
  return {};
}
template <Word T>
[[nodiscard]] std::string take_leaf(const auto& json, T& into) {
  std::string word;
  if (auto wrong = take_leaf(json, word); !wrong.empty()) {
    return wrong;
  }
  const auto known = from_name<T>(word);
  if (!known) {
    return "'" + word + "' is no word for it";
  }
  into = *known;
  return {};
}

}  // namespace dryclock::wire
