#include "wire/shown_json.hpp"

#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <cmath>
#include <type_traits>

#include "wire/json_writer.hpp"
#include "wire/shown_fields.hpp"

namespace dryclock::wire {
namespace {

namespace json = boost::json;

template <class T>
concept Word = std::is_enum_v<T>;
template <class T>
concept Listed = requires(T list) {
  list.push_back(list.front());
}
&&!std::same_as<T, std::string>;

std::int64_t minutes_of(Time t) {
  return std::chrono::floor<std::chrono::minutes>(t.time_since_epoch()).count();
}

class Writer {
 public:
  template <class T>
  void must(std::string_view name, const T& what) {
    out_.key(name);
    put(what);
  }
  template <class T>
  void may(std::string_view name, const std::optional<T>& what) {
    if (what) {
      must(name, *what);
    }
  }
  template <Listed T>
  void may(std::string_view name, const T& what) {
    if (!what.empty()) {
      must(name, what);
    }
  }
  void may(std::string_view name, const std::string& what) {
    if (!what.empty()) {
      must(name, what);
    }
  }
  void item_count(double what, double unit) {
    item(std::optional{static_cast<std::int64_t>(std::llround(what * unit))});
  }
  void item(const std::string& what) { item(what.empty() ? std::nullopt : std::optional{what}); }
  template <class T>
  void item(const std::optional<T>& what) {
    if (!what) {
      ++empty_items_;
      return;
    }
    for (; empty_items_ > 0; --empty_items_) {
      out_.null();
    }
    put(*what);
  }
  void must_count(std::string_view name, double what, double unit) {
    out_.key(name);
    out_.value(std::llround(what * unit));
  }
  void may_count(std::string_view name, const std::optional<double>& what, double unit) {
    if (what) {
      must_count(name, *what, unit);
    }
  }
  void may_count(std::string_view name, const std::optional<models::Quantiles>& what, double unit) {
    if (what) {
      out_.key(name);
      out_.begin_array();
      for (const double one : {what->low, what->likely, what->high}) {
        out_.value(std::llround(one * unit));
      }
      out_.end_array();
    }
  }

  template <class T>
  void put(const T& what) {
    if constexpr (Word<T>) {
      out_.value(name_of(what));
    } else if constexpr (std::same_as<T, std::string> || std::integral<T>) {
      out_.value(what);
    } else if constexpr (Listed<T>) {
      out_.begin_array();
      for (const auto& one : what) {
        put(one);
      }
      out_.end_array();
    } else if constexpr (std::same_as<T, ShownMilestone>) {
      out_.begin_array();
      visit_shown(*this, what);
      empty_items_ = 0;
      out_.end_array();
    } else {
      out_.begin_object();
      visit_shown(*this, what);
      out_.end_object();
    }
  }
  void put(const Time& t) {
    const auto minutes = minutes_of(t);
    out_.value(minutes - base_.value_or(0));
    base_ = base_.value_or(minutes);
  }
  [[nodiscard]] std::string text() && { return std::move(out_).text(); }

 private:
  JsonWriter out_;
  std::optional<std::int64_t> base_;  // "at", once it is written
  int empty_items_ = 0;               // passed over since the last one of the list
};

// What all readers of one text share.
struct Reading {
  std::optional<Time> base;  // "at", once it is read
  std::optional<Problem> problem;
};

class Reader {
 public:
  Reader(const json::value& value, std::string path, Reading& reading)
      : value_(value), path_(std::move(path)), reading_(reading) {}

  template <class T>
  void must(std::string_view name, T& into) {
    if (const auto* found = member(name)) {
      below(name, *found).take(into);
    } else if (value_.is_object()) {
      below(name, value_).fail("is missing");
    }
  }
  template <class T>
  void may(std::string_view name, std::optional<T>& into) {
    if (const auto* found = member(name)) {
      below(name, *found).take(into.emplace());
    }
  }
  template <class T>
  void may(std::string_view name, T& into) {
    if (const auto* found = member(name)) {
      below(name, *found).take(into);
    }
  }
  void must_count(std::string_view name, double& into, double unit) {
    std::int64_t count = 0;
    must(name, count);
    into = static_cast<double>(count) / unit;
  }
  void item_count(double& into, double unit) {
    std::optional<std::int64_t> count;
    item(count);
    if (count) {
      into = static_cast<double>(*count) / unit;
    } else {
      below("0", value_).fail("is missing");
    }
  }
  template <class T>
  void item(std::optional<T>& into) {
    if (const auto* found = next_item()) {
      below(std::to_string(items_ - 1), *found).take(into.emplace());
    }
  }
  void item(std::string& into) {
    std::optional<std::string> text;
    item(text);
    into = text.value_or("");
  }
  void may_count(std::string_view name, std::optional<double>& into, double unit) {
    if (member(name) != nullptr) {
      must_count(name, into.emplace(), unit);
    }
  }
  void may_count(std::string_view name, std::optional<models::Quantiles>& into, double unit) {
    if (const auto* found = member(name)) {
      auto& q = into.emplace();
      std::array<std::int64_t, 3> counts{};
      below(name, *found).take_each(counts);
      q = {static_cast<double>(counts[0]) / unit, static_cast<double>(counts[1]) / unit,
           static_cast<double>(counts[2]) / unit};
    }
  }

  template <class T>
  void take(T& into) {
    if constexpr (std::same_as<T, std::string>) {
      if (const auto* text = value_.if_string()) {
        into.assign(text->data(), text->size());
      } else {
        fail("must be a text");
      }
    } else if constexpr (std::integral<T>) {
      if (const auto* number = value_.if_int64()) {
        into = static_cast<T>(*number);
      } else {
        fail("must be a whole number");
      }
    } else if constexpr (std::same_as<T, Time>) {
      take_time(into);
    } else if constexpr (Word<T>) {
      take_word(into);
    } else if constexpr (Listed<T>) {
      take_list(into);
    } else if (std::same_as<T, ShownMilestone> ? value_.is_array() : value_.is_object()) {
      visit_shown(*this, into);
    } else {
      fail(std::same_as<T, ShownMilestone> ? "must be a list" : "must be an object");
    }
  }
  template <class T>
  void take_each(std::array<T, 3>& into) {
    const auto* list = value_.if_array();
    if (list == nullptr || list->size() != into.size()) {
      return fail("must be a list of 3");
    }
    for (std::size_t i = 0; i < into.size(); ++i) {
      below(std::to_string(i), (*list)[i]).take(into[i]);
    }
  }

 private:
  [[nodiscard]] const json::value* member(std::string_view name) const {
    const auto* object = value_.if_object();
    return object == nullptr ? nullptr : object->if_contains(name);
  }
  // Null where the list is at its end, or has a null there.
  [[nodiscard]] const json::value* next_item() {
    const auto& list = value_.get_array();
    const std::size_t i = items_++;
    return i < list.size() && !list[i].is_null() ? &list[i] : nullptr;
  }
  [[nodiscard]] Reader below(std::string_view name, const json::value& value) const {
    return {value, fmt::format("{}/{}", path_, name), reading_};
  }
  // The first time that is read is the one that the others count from.
  void take_time(Time& into) {
    // No time that people have to do with is further away; it keeps sums within the type.
    constexpr std::int64_t most_minutes = 1'000'000'000;
    const auto* number = value_.if_int64();
    if (number == nullptr || *number > most_minutes || *number < -most_minutes) {
      return fail("must be a whole number of minutes");
    }
    into = reading_.base.value_or(Time{}) + std::chrono::minutes{*number};
    reading_.base = reading_.base.value_or(into);
  }
  template <class T>
  void take_word(T& into) {
    std::string word;
    take(word);
    if (const auto known = from_name<T>(word)) {
      into = *known;
    } else {
      fail(fmt::format("'{}' is no word for it", word));
    }
  }
  template <class T>
  void take_list(T& into) {
    const auto* list = value_.if_array();
    if (list == nullptr) {
      return fail("must be a list");
    }
    into.resize(list->size());
    for (std::size_t i = 0; i < list->size(); ++i) {
      below(std::to_string(i), (*list)[i]).take(into[i]);
    }
  }
  void fail(std::string what) {
    if (!reading_.problem) {
      reading_.problem = Problem{std::move(what), path_};
    }
  }

  const json::value& value_;
  std::string path_;
  Reading& reading_;
  std::size_t items_ = 0;  // of the list, read so far
};

}  // namespace

std::string to_json(const Shown& shown) {
  Writer writer;
  writer.put(shown);
  return std::move(writer).text();
}

Result<Shown> read_shown(std::string_view text) {
  boost::system::error_code error;
  const json::value parsed = json::parse(json::string_view{text.data(), text.size()}, error);
  if (error) {
    return Problem{"not JSON: " + error.message(), ""};
  }
  Shown shown;
  Reading reading;
  Reader{parsed, "", reading}.take(shown);
  if (reading.problem) {
    return *reading.problem;
  }
  return shown;
}

}  // namespace dryclock::wire
