// Reads what has a list of fields (domain/field.hpp) off JSON. The first problem is kept, with its place as a
// JSON pointer.
#pragma once

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <limits>
#include <map>
#include <vector>

#include "base/result.hpp"
#include "base/wellformed.hpp"
#include "wire/leaves.hpp"

namespace dryclock::wire {

enum class Form : std::uint8_t {
  row,     // of the journal: what is missing has its default; what a later program says beside is passed over
  answer,  // of the daemon: what is missing is a problem; what a later one says beside is passed over
  submitted,  // an event as people send it: what is missing or unknown, too long or out of bounds is a
              // problem
};

// Texts that were sent beside a shape and are kept elsewhere, by name.
using Apart = std::map<std::string, std::string, std::less<>>;

class FieldReader {
 public:
  // `apart`: where such texts go; null: there may be none.
  FieldReader(const json::value& value, std::string path, Form form, std::optional<Problem>& problem,
              Apart* apart = nullptr)
      : value_(value), path_(std::move(path)), form_(form), problem_(problem), apart_(apart) {}

  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  // A problem with it does not repeat what was sent.
  void apart(std::string_view name, std::string_view /*what*/) {
    const auto* found = apart_ == nullptr ? nullptr : value_.get_object().if_contains(name);
    if (found == nullptr) {
      return;
    }
    known_.push_back(name);
    const auto* text = found->if_string();
    if (text != nullptr && text->size() <= longest_apart) {
      apart_->insert_or_assign(std::string{name}, std::string{std::string_view{*text}});
    } else if (!found->is_null()) {
      at(name, *found).fail(fmt::format("must be a text of at most {} bytes", longest_apart));
    }
  }
  template <class T, class... Marks>
  void operator()(std::string_view name, T& into, const Marks&... marks) {
    if (!there(name, into, marks...) && form_ != Form::row) {
      at(name, value_).fail("is missing");
    }
  }
  template <class T, class... Marks>
  void optional(std::string_view name, T& into, const Marks&... marks) {
    there(name, into, marks...);
  }
  void flat(auto& into) { visit_fields(*this, into); }

  template <class T, class... Marks>
  void read(T& into, const Marks&... marks) {
    if constexpr (is_optional<T>) {
      read(into.emplace(), marks...);
    } else if constexpr (std::same_as<T, Event>) {
      read_event(into);
    } else if constexpr (std::same_as<T, Millis>) {
      Millis::rep count = into.count();
      read(count);
      into = Millis{count};
    } else if constexpr (InUnits<T>) {
      double number = 0.0;
      read(number);
      into = T{number};
    } else if constexpr (List<T>) {
      read_list(into, marks...);
    } else if constexpr (std::is_class_v<T> && !std::same_as<T, std::string> && !std::same_as<T, Time>) {
      read_object(into);
    } else {
      T value{};
      auto wrong = read_leaf(value_, value);
      if (wrong.empty()) {
        wrong = beyond(value, marks...);
      }
      wrong.empty() ? static_cast<void>(into = std::move(value)) : fail(std::move(wrong));
    }
  }
  template <class... E>
  void read(auto& array, const By<E...>& index, const auto&... /*marks*/) {
    for_each_word(index, array, [&](std::string_view word, auto& element) {
      if constexpr (sizeof...(E) > 1) {
        (*this)(word, element, further(index));
      } else {
        (*this)(word, element);
      }
    });
  }
  void read(std::uint8_t& validity, const Flags& /*flags*/, const auto&... /*marks*/) {
    std::vector<std::string> found;
    read(found);
    validity = models::valid;
    for (const auto& [flag, word] : validity_names) {
      if (std::ranges::find(found, word) != found.end()) {
        validity = static_cast<std::uint8_t>(validity | flag);
      }
    }
  }

 private:
  static constexpr std::size_t longest_text = 2000;  // bytes, that people send

  // Takes the field, where it is there and not null.
  template <class T, class... Marks>
  bool there(std::string_view name, T& into, const Marks&... marks) {
    known_.push_back(name);
    const auto* object = value_.if_object();
    if (object == nullptr) {
      fail("must be an object");
      return true;
    }
    const auto* found = object->if_contains(name);
    if (found == nullptr || (found->is_null() && form_ != Form::answer)) {
      return false;
    }
    if (found->is_null()) {
      return absent<Marks...>(into);
    }
    at(name, *found).read(into, marks...);
    return true;
  }
  // Whether an answer may say null there.
  template <class... Marks, class T>
  static bool absent(T& into) {
    if constexpr (is_optional<T>) {
      into.reset();
    }
    if constexpr (marked<OrNull, Marks...>) {
      into = std::numeric_limits<double>::quiet_NaN();
    }
    return is_optional<T> || marked<OrNull, Marks...>;
  }

  // What is wrong with a value of the right kind, that people sent; empty: nothing.
  template <class T, class... Marks>
  [[nodiscard]] std::string beyond(const T& value, const Marks&... marks) const {
    if (form_ != Form::submitted) {
      return {};
    }
    if constexpr (std::same_as<T, std::string>) {
      return value.size() > longest_text ? fmt::format("is longer than {} bytes", longest_text) : "";
    } else if constexpr (marked<Bounds, Marks...>) {
      const auto bounds = mark<Bounds>(marks...);
      const auto number = static_cast<double>(value);
      return number >= bounds.least && number <= bounds.most
                 ? ""
                 : fmt::format("must be from {} to {}, not {}", bounds.least, bounds.most, number);
    } else if constexpr (marked<AtLeast, Marks...>) {
      const auto least = mark<AtLeast>(marks...).least;
      return value >= least ? "" : fmt::format("must be a number from {}, not {}", least, value);
    } else {
      return {};
    }
  }

  template <class T, class... Marks>
  void read_list(T& into, const Marks&... marks) {
    if constexpr (marked<Sizes, Marks...>) {
      const auto sizes = mark<Sizes>(marks...);
      const auto* given = form_ == Form::submitted ? value_.if_array() : nullptr;
      if (given != nullptr && (given->size() < sizes.least || given->size() > sizes.most)) {
        return fail(fmt::format("must be a list of {} to {}", sizes.least, sizes.most));
      }
    }
    std::string wrong;
    const auto* list = list_for(value_, into, wrong);
    if (list == nullptr) {
      return fail(std::move(wrong));
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
      at(std::to_string(i), (*list)[i]).read(into[i]);
    }
  }
  template <class T>
  void read_object(T& into) {
    if (!value_.is_object()) {
      return fail(must_be("an object", value_));
    }
    if constexpr (Telling<T>) {
      std::string what;
      (*this)("what", what);
      if (what != what_of<T>()) {
        return at("what", value_).fail(fmt::format("must be {}", what_of<T>()));
      }
    }
    visit_fields(*this, into);
    leave_nothing("it");
  }
  void read_event(Event& event) {
    std::string what;
    (*this)("what", what);
    if (auto detail = blank_detail(what)) {
      event.detail = std::move(*detail);
      return read_event_fields(event, what);
    }
    at("what", value_).fail(fmt::format("must be one of {}", fmt::join(event_names, ", ")));
  }
  // What an event has beside its `what`, which is `what`.
  void read_event_fields(Event& event, std::string_view what) {
    known_.emplace_back("what");
    if (form_ != Form::submitted) {
      (*this)("seq", event.seq);
      (*this)("entered", event.entered);
    }
    optional("at", event.at);
    optional("who", event.who);
    optional("note", event.note);
    optional("key", event.key);
    if (form_ != Form::submitted) {
      optional("deed", event.deed);
    }
    std::visit([this](auto& detail) { visit_fields(*this, detail); }, event.detail);
    leave_nothing(fmt::format("a \"{}\" event", what));
  }
  // The detail whose name is `what`, with its default values.
  template <std::size_t I = 0>
  [[nodiscard]] static std::optional<EventDetail> blank_detail(std::string_view what) {
    if constexpr (I < std::variant_size_v<EventDetail>) {
      return event_names[I] == what ? std::optional<EventDetail>{EventDetail{std::in_place_index<I>}}
                                    : blank_detail<I + 1>(what);
    } else {
      return std::nullopt;
    }
  }
  // Fields that nobody asked for.
  void leave_nothing(std::string_view whose) {
    if (form_ != Form::submitted || problem_) {
      return;
    }
    for (const auto& field : value_.get_object()) {
      if (std::ranges::find(known_, std::string_view{field.key()}) == known_.end()) {
        return at(pointer_token(field.key()), value_).fail(fmt::format("{} has no such field", whose));
      }
    }
  }

  [[nodiscard]] FieldReader at(std::string_view name, const json::value& value) const {
    return {value, fmt::format("{}/{}", path_, name), form_, problem_};
  }
  void fail(std::string what) {
    if (!problem_) {
      problem_ = Problem{std::move(what), path_};
    }
  }

  const json::value& value_;
  std::string path_;
  Form form_;
  std::optional<Problem>& problem_;
  Apart* apart_;
  std::vector<std::string_view> known_;
};

// Problem: not JSON.
[[nodiscard]] inline Result<json::value> parsed_json(std::string_view text) {
  boost::system::error_code error;
  json::value value = json::parse(json::string_view{text.data(), text.size()}, error);
  if (error) {
    return Problem{"not JSON: " + error.message(), ""};
  }
  return value;
}

// Problem: what the form does not allow; `where` is a JSON pointer. `into`: what the defaults are.
template <class T>
[[nodiscard]] Result<T> read_value(Form form, const json::value& value, T into = {}, Apart* apart = nullptr) {
  std::optional<Problem> problem;
  FieldReader{value, "", form, problem, apart}.read(into);
  if (problem) {
    return *problem;
  }
  return into;
}
// Problem: not JSON either.
template <class T>
[[nodiscard]] Result<T> read_as(Form form, std::string_view text, T into = {}, Apart* apart = nullptr) {
  const auto value = parsed_json(text);
  return value ? read_value<T>(form, *value, std::move(into), apart) : Result<T>{value.error()};
}

}  // namespace dryclock::wire
