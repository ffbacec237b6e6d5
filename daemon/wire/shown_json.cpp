#include "wire/shown_json.hpp"

#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <cmath>

#include "wire/json_writer.hpp"
#include "wire/leaves.hpp"
#include "wire/shown_fields.hpp"

namespace dryclock::wire {
namespace {

template <class T>
concept Listed = requires(T list) {
  list.push_back(list.front());
}
&&!std::same_as<T, std::string>;
// What is written as a list of its fields.
template <class T>
concept Places = std::same_as<T, Spread> || std::same_as<T, ShownMilestone> || std::same_as<T, ShownPiece> ||
    std::same_as<T, ShownAlert> || std::same_as<T, ShownDelivery>;

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
  void may_unless(ShownWhy usual, std::string_view name, ShownWhy what) {
    if (what != usual) {
      must(name, what);
    }
  }
  template <class T>
  void sure(const T& what) {
    item(std::optional{what});
  }
  void count(double what, double unit) { sure(std::llround(what * unit)); }
  void item(const std::string& what) { item(what.empty() ? std::nullopt : std::optional{what}); }
  template <class T>
  void item(const std::optional<T>& what) {
    place(what, "null");
  }
  void item_if(bool what) { item(what ? std::optional{1} : std::nullopt); }
  template <class T>
  void part(const std::optional<T>& what) {
    place(what, "0");
  }
  void part_counts(const std::optional<models::Quantiles>& what, double unit) {
    part(what ? std::optional{std::vector{std::llround(what->low * unit), std::llround(what->likely * unit),
                                          std::llround(what->high * unit)}}
              : std::nullopt);
  }
  void either(const std::optional<Time>& at, const std::optional<Spread>& expected) {
    if (at) {
      item(at);
    } else {
      item(expected);
    }
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
    } else if constexpr (Places<T>) {
      out_.begin_array();
      const int outer = std::exchange(empty_places_, 0);
      visit_shown(*this, what);
      empty_places_ = outer;
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
  template <class T>
  void place(const std::optional<T>& what, std::string_view empty) {
    if (!what) {
      ++empty_places_;
      return;
    }
    for (; empty_places_ > 0; --empty_places_) {
      out_.raw(empty);
    }
    put(*what);
  }

  JsonWriter out_;
  std::optional<std::int64_t> base_;  // "at", once it is written
  int empty_places_ = 0;              // passed over since the last one of the list
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
      below(name, *found).read(into);
    } else if (value_.is_object()) {
      below(name, value_).fail("is missing");
    }
  }
  template <class T>
  void may(std::string_view name, std::optional<T>& into) {
    if (const auto* found = member(name)) {
      below(name, *found).read(into.emplace());
    }
  }
  template <class T>
  void may(std::string_view name, T& into) {
    if (const auto* found = member(name)) {
      below(name, *found).read(into);
    }
  }
  void must_count(std::string_view name, double& into, double unit) {
    std::int64_t count = 0;
    must(name, count);
    into = static_cast<double>(count) / unit;
  }
  void may_unless(ShownWhy usual, std::string_view name, ShownWhy& into) {
    into = usual;
    may(name, into);
  }
  template <class T>
  void sure(T& into) {
    std::optional<T> found;
    item(found);
    if (found) {
      into = std::move(*found);
    } else {
      below(std::to_string(places_ - 1), value_).fail("is missing");
    }
  }
  void count(double& into, double unit) {
    std::int64_t count = 0;
    sure(count);
    into = static_cast<double>(count) / unit;
  }
  template <class T>
  void item(std::optional<T>& into) {
    if (const auto* found = next_place()) {
      below(std::to_string(places_ - 1), *found).read(into.emplace());
    }
  }
  template <class T>
  void part(std::optional<T>& into) {
    const auto* found = next_place();
    const auto* number = found == nullptr ? nullptr : found->if_int64();
    if (found != nullptr && (number == nullptr || *number != 0)) {
      below(std::to_string(places_ - 1), *found).read(into.emplace());
    }
  }
  void part_counts(std::optional<models::Quantiles>& into, double unit) {
    std::optional<std::array<std::int64_t, 3>> counts;
    part(counts);
    if (counts) {
      const auto of = [&](std::size_t i) { return static_cast<double>((*counts)[i]) / unit; };
      into = {of(0), of(1), of(2)};
    }
  }
  void either(std::optional<Time>& at, std::optional<Spread>& expected) {
    if (const auto* found = next_place()) {
      auto one = below(std::to_string(places_ - 1), *found);
      if (found->is_array()) {
        one.read(expected.emplace());
      } else {
        one.read(at.emplace());
      }
    }
  }
  void item(std::string& into) {
    std::optional<std::string> text;
    item(text);
    into = text.value_or("");
  }
  void item_if(bool& into) {
    std::optional<int> one;
    item(one);
    into = one == 1;
  }
  void may_count(std::string_view name, std::optional<double>& into, double unit) {
    if (member(name) != nullptr) {
      must_count(name, into.emplace(), unit);
    }
  }
  template <class T>
  void read(T& into) {
    if constexpr (std::same_as<T, std::string> || Word<T> || Whole<T>) {
      fail(read_leaf(value_, into));
    } else if constexpr (std::same_as<T, Time>) {
      read_time(into);
    } else if constexpr (List<T>) {
      read_list(into);
    } else if (Places<T> ? value_.is_array() : value_.is_object()) {
      visit_shown(*this, into);
    } else {
      fail(Places<T> ? "must be a list" : "must be an object");
    }
  }

 private:
  [[nodiscard]] const json::value* member(std::string_view name) const {
    const auto* object = value_.if_object();
    return object == nullptr ? nullptr : object->if_contains(name);
  }
  // Null where the list is at its end, or has a null there.
  [[nodiscard]] const json::value* next_place() {
    const auto& list = value_.get_array();
    const std::size_t i = places_++;
    return i < list.size() && !list[i].is_null() ? &list[i] : nullptr;
  }
  [[nodiscard]] Reader below(std::string_view name, const json::value& value) const {
    return {value, fmt::format("{}/{}", path_, name), reading_};
  }
  // The first time that is read is the one that the others count from.
  void read_time(Time& into) {
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
  void read_list(T& into) {
    std::string wrong;
    const auto* list = list_for(value_, into, wrong);
    if (list == nullptr) {
      return fail(std::move(wrong));
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
      below(std::to_string(i), (*list)[i]).read(into[i]);
    }
  }
  // Empty: nothing is wrong.
  void fail(std::string what) {
    if (!reading_.problem && !what.empty()) {
      reading_.problem = Problem{std::move(what), path_};
    }
  }

  const json::value& value_;
  std::string path_;
  Reading& reading_;
  std::size_t places_ = 0;  // of the list, read so far
};

}  // namespace

std::string to_json(const Shown& shown) {
  Writer writer;
  writer.put(shown);
  return std::move(writer).text();
}

Result<Shown> read_shown(VehicleId vehicle, std::string_view text) {
  boost::system::error_code error;
  const json::value parsed = json::parse(json::string_view{text.data(), text.size()}, error);
  if (error) {
    return Problem{"not JSON: " + error.message(), ""};
  }
  Shown shown = empty_row(ShownWhy::hourly, {}, vehicle);
  Reading reading;
  Reader{parsed, "", reading}.read(shown);
  if (reading.problem) {
    return *reading.problem;
  }
  return shown;
}

}  // namespace dryclock::wire
