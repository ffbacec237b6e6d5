// Puts words to the facts of a view, wherever they stand in it.
#pragma once

#include <concepts>
#include <string_view>

#include "domain/fact.hpp"
#include "wire/marks.hpp"
#include "wording/words.hpp"

namespace dryclock::wording {

// Walks a shape by the list of its fields (domain/field.hpp).
class Speaker {
 public:
  explicit Speaker(const Words& words) : words_(words) {}

  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) const {}
  void operator()(std::string_view /*name*/, auto& field, const auto&... /*marks*/) { speak(field); }
  void optional(std::string_view /*name*/, auto& field, const auto&... /*marks*/) { speak(field); }
  void flat(auto& part) { visit_fields(*this, part); }

  template <class T>
  void speak(T& field) {
    if constexpr (std::same_as<T, Fact>) {
      field.words = words_.fact(field);
    } else if constexpr (wire::is_optional<T>) {
      if (field) {
        speak(*field);
      }
    } else if constexpr (wire::List<T>) {
      for (auto& one : field) {
        speak(one);
      }
    } else if constexpr (requires { visit_fields(*this, field); }) {
      visit_fields(*this, field);
    }
  }

 private:
  const Words& words_;
};

// `view` with its facts in words.
template <class View>
[[nodiscard]] View spoken(View view, const Words& words) {
  Speaker{words}.speak(view);
  return view;
}

}  // namespace dryclock::wording
