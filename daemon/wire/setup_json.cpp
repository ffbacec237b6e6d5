#include "wire/setup_json.hpp"

#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>

#include "wire/json_writer.hpp"
#include "wire/setup_fields.hpp"

namespace dryclock::wire {
namespace {

namespace json = boost::json;

template <class T>
concept InUnits = requires(T quantity) {
  { quantity.value() } -> std::same_as<double>;
};
template <class T>
concept Plain = std::same_as<T, std::string> || std::same_as<T, bool> || std::same_as<T, double> ||
    std::same_as<T, int> || std::same_as<T, std::int64_t>;
template <class T>
concept List = requires(T list) {
  list.begin();
  list.size();
}
&&!std::same_as<T, std::string>;

class Writer {
 public:
  template <class T>
  void operator()(std::string_view name, const T& what) {
    out_.key(name);
    put(what);
  }
  template <class T>
  void put(const T& what) {
    if constexpr (Plain<T>) {
      out_.value(what);
    } else if constexpr (Word<T>) {
      out_.value(name_of(what));
    } else if constexpr (std::same_as<T, Millis>) {
      out_.value(what.count());
    } else if constexpr (std::same_as<T, Time>) {
      out_.value(to_rfc3339(what));
    } else if constexpr (InUnits<T>) {
      out_.value(what.value());
    } else if constexpr (List<T>) {
      out_.begin_array();
      for (const auto& one : what) {
        put(one);
      }
      out_.end_array();
    } else {
      out_.begin_object();
      visit_setup(*this, what);
      out_.end_object();
    }
  }
  void put(const std::optional<double>& what) { out_.value(what); }

  [[nodiscard]] std::string text() && { return std::move(out_).text(); }

 private:
  JsonWriter out_;
};

class Reader {
 public:
  Reader(const json::value& value, std::string path, std::optional<Problem>& problem)
      : value_(value), path_(std::move(path)), problem_(problem) {}

  template <class T>
  void operator()(std::string_view name, T& into) {
    const auto* object = value_.if_object();
    if (object == nullptr) {
      return fail("must be an object");
    }
    if (const auto* found = object->if_contains(name); found != nullptr && !found->is_null()) {
      Reader{*found, fmt::format("{}/{}", path_, name), problem_}.take(into);
    }
  }
  template <class T>
  void take(T& into) {
    if constexpr (std::same_as<T, std::string> || Word<T> || Whole<T>) {
      fail(take_leaf(value_, into));
    } else if constexpr (std::same_as<T, bool>) {
      if (const auto* truth = value_.if_bool()) {
        into = *truth;
      } else {
        fail("must be true or false");
      }
    } else if constexpr (std::same_as<T, double>) {
      if (value_.is_number()) {
        into = value_.to_number<double>();
      } else {
        fail("must be a number");
      }
    } else if constexpr (std::same_as<T, Millis>) {
      Millis::rep count = into.count();
      take(count);
      into = Millis{count};
    } else if constexpr (std::same_as<T, Time>) {
      std::string told;
      take(told);
      if (const auto time = parse_rfc3339(told)) {
        into = *time;
      } else {
        fail(time.error().what);
      }
    } else if constexpr (std::same_as<T, std::optional<double>>) {
      take(into.emplace());
    } else if constexpr (InUnits<T>) {
      double number = 0.0;
      take(number);
      into = T{number};
    } else if constexpr (List<T>) {
      take_list(into);
    } else {
      visit_setup(*this, into);
    }
  }

 private:
  template <class T>
  void take_list(T& into) {
    const auto* list = value_.if_array();
    if (list == nullptr) {
      return fail("must be a list");
    }
    if constexpr (requires { into.clear(); }) {
      into.clear();
      into.resize(list->size());
    } else if (list->size() != into.size()) {
      return fail(fmt::format("must be a list of {}", into.size()));
    }
    for (std::size_t i = 0; i < list->size(); ++i) {
      Reader{(*list)[i], fmt::format("{}/{}", path_, i), problem_}.take(into[i]);
    }
  }
  // Empty: nothing is wrong.
  void fail(std::string what) {
    if (!problem_ && !what.empty()) {
      problem_ = Problem{std::move(what), path_};
    }
  }

  const json::value& value_;
  std::string path_;
  std::optional<Problem>& problem_;
};

template <class T>
std::string written(const T& what) {
  Writer writer;
  writer.put(what);
  return std::move(writer).text();
}

template <class T>
Result<T> read(std::string_view text) {
  boost::system::error_code error;
  const json::value parsed = json::parse(json::string_view{text.data(), text.size()}, error);
  if (error) {
    return Problem{"not JSON: " + error.message(), ""};
  }
  T what;
  std::optional<Problem> problem;
  Reader{parsed, "", problem}.take(what);
  if (problem) {
    return *problem;
  }
  return what;
}

}  // namespace

std::string to_json(const Configured& configured) {
  return written(configured);
}

std::string to_json(const Setup& setup) {
  return written(setup);
}

std::string to_json(const Redated& redated) {
  return written(redated);
}

Result<Configured> read_configured(std::string_view text) {
  return read<Configured>(text);
}

Result<Redated> read_redated(std::string_view text) {
  auto told = read<Redated>(text);
  if (told && told->boot.empty()) {
    return Problem{"must name a boot", "/boot"};
  }
  return told;
}

}  // namespace dryclock::wire
