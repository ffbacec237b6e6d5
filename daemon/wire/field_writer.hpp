// Writes what has a list of fields (domain/field.hpp) as JSON: enumerations by their words, instants as RFC
// 3339 in UTC, spans of time as milliseconds, what is absent or not a number as null.
#pragma once

#include "base/time.hpp"
#include "wire/json_writer.hpp"
#include "wire/marks.hpp"

namespace dryclock::wire {

class FieldWriter {
 public:
  // `brief`: what may be left out is, where it is at its default.
  explicit FieldWriter(JsonWriter& out, bool brief = false) : out_(out), brief_(brief) {}

  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) const {}
  template <class T, class... Marks>
  void operator()(std::string_view name, const T& what, const Marks&... marks) {
    out_.key(name);
    put(what, marks...);
  }
  template <class T, class... Marks>
  void optional(std::string_view name, const T& what, const Marks&... marks) {
    if (!brief_ || !is_default(what)) {
      (*this)(name, what, marks...);
    }
  }
  void flat(const auto& what) { visit_fields(*this, what); }

  template <class T, class... Marks>
  void put(const T& what, const Marks&... marks) {
    if constexpr (is_optional<T>) {
      what ? put(*what, marks...) : out_.null();
    } else if constexpr (Word<T>) {
      out_.value(name_of(what));
    } else if constexpr (std::same_as<T, Millis>) {
      out_.value(what.count());
    } else if constexpr (InUnits<T>) {
      out_.value(what.value());
    } else if constexpr (List<T>) {
      put_list(what);
    } else if constexpr (std::same_as<T, Event>) {
      put_event(what);
    } else if constexpr (std::is_class_v<T> && !std::same_as<T, std::string> && !std::same_as<T, Time>) {
      put_object(what);
    } else {
      out_.value(what);
    }
  }
  template <class... E>
  void put(const auto& array, const By<E...>& index, const auto&... /*marks*/) {
    out_.begin_object();
    for_each_word(index, array, [&](std::string_view word, const auto& element) {
      out_.key(word);
      if constexpr (sizeof...(E) > 1) {
        put(element, further(index));
      } else {
        put(element);
      }
    });
    out_.end_object();
  }
  void put(const std::uint8_t& validity, const Flags& /*flags*/, const auto&... /*marks*/) {
    out_.begin_array();
    for (const auto& [flag, word] : validity_names) {
      if ((validity & flag) != 0) {
        out_.value(word);
      }
    }
    out_.end_array();
  }

 private:
  template <class T>
  static bool is_default(const T& value) {
    if constexpr (Word<T> || std::same_as<T, int>) {
      return false;  // their default is a choice, and the record shows it
    } else {
      return value == T{};
    }
  }
  void put_list(const auto& list) {
    out_.begin_array();
    for (const auto& one : list) {
      put(one);
    }
    out_.end_array();
  }
  template <class T>
  void put_object(const T& what) {
    out_.begin_object();
    if constexpr (Telling<T> || written_brief<T>) {
      FieldWriter brief{out_, true};
      if constexpr (Telling<T>) {
        brief("what", std::string{what_of<T>()});
      }
      visit_fields(brief, what);
    } else {
      visit_fields(*this, what);
    }
    out_.end_object();
  }
  void put_event(const Event& event) {
    FieldWriter brief{out_, true};
    out_.begin_object();
    if (event.seq != 0) {
      brief("seq", event.seq);
      brief("entered", event.entered);
    }
    brief("what", std::string{event_names[event.detail.index()]});
    brief("at", event.at);
    brief.optional("who", event.who);
    brief.optional("note", event.note);
    brief.optional("key", event.key);
    brief.optional("deed", event.deed);
    std::visit([&](const auto& detail) { visit_fields(brief, detail); }, event.detail);
    out_.end_object();
  }

  JsonWriter& out_;
  bool brief_;
};

// As one line.
template <class T>
[[nodiscard]] std::string written(const T& what) {
  JsonWriter out;
  FieldWriter{out}.put(what);
  return std::move(out).text();
}

}  // namespace dryclock::wire
