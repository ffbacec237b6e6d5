// What the lists of fields are asked by those who walk them, and the kinds of values that fields are.
#pragma once

#include <concepts>
#include <string>
#include <type_traits>
#include <variant>

#include "domain/event.hpp"
#include "domain/field.hpp"
#include "domain/names.hpp"

namespace dryclock::wire {

// Whether a field's marks have one of that kind.
template <class Mark, class... Marks>
inline constexpr bool marked = (std::same_as<Marks, Mark> || ...);

// The mark of that kind, which must be there.
template <class Mark, class... Marks>
[[nodiscard]] constexpr Mark mark(const Marks&... marks) {
  Mark found{};
  const auto take = [&](const auto& one) {
    if constexpr (std::same_as<std::decay_t<decltype(one)>, Mark>) {
      found = one;
    }
  };
  (take(marks), ...);
  return found;
}

template <class T>
concept Word = std::is_enum_v<T>;
template <class T>
concept Whole = std::integral<T> && !std::same_as<T, bool>;
template <class T>
concept InUnits = requires(T quantity) {
  { quantity.value() } -> std::same_as<double>;
}
&&!requires(T maybe) {
  maybe.has_value();
};
template <class T>
concept List = requires(T list) {
  list.begin();
  list.size();
}
&&!std::same_as<T, std::string>;

template <class T>
inline constexpr bool is_optional = false;
template <class T>
inline constexpr bool is_optional<std::optional<T>> = true;

// An alternative of EventDetail: written as the event that tells it.
template <class T, class Detail = EventDetail>
inline constexpr bool tells = false;
template <class T, class... Details>
inline constexpr bool tells<T, std::variant<Details...>> = (std::same_as<T, Details> || ...);
template <class T>
concept Telling = tells<T>;
template <Telling T>
[[nodiscard]] std::string_view what_of() {
  return event_names[EventDetail{std::in_place_type<T>}.index()];
}

// Calls visit(word, element) for each element of an array that enumerations index.
template <class E, class... Further>
void for_each_word(By<E, Further...> /*by*/, auto& array, const auto& visit) {
  static_assert(words<E>.size() > 0);
  for (std::size_t i = 0; i < words<E>.size(); ++i) {
    visit(words<E>[i], array[i]);
  }
}
// What indexes the elements.
template <class E, class... Further>
[[nodiscard]] constexpr By<Further...> further(By<E, Further...> /*by*/) {
  return {};
}

}  // namespace dryclock::wire
