#include "ingest/event_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/string.hpp>
#include <boost/json/value.hpp>
#include <charconv>
#include <cmath>
#include <optional>
#include <type_traits>

#include "domain/names.hpp"
#include "ingest/event_fields.hpp"
#include "ingest/settled.hpp"

namespace dryclock::ingest {
namespace {

namespace json = boost::json;

constexpr std::size_t longest_text = 2000;     // bytes
constexpr std::size_t longest_personal = 200;  // bytes

// Reads fields off an object. The first problem is kept; what was read is remembered, to find what is left
// over.
class FieldReader {
 public:
  explicit FieldReader(const json::object& object) : object_(object) {}

  template <class T, class... Limits>
  void required(std::string_view name, T& into, Limits... limits) {
    take(name, true, into, limits...);
  }
  template <class T, class... Limits>
  void optional(std::string_view name, T& into, Limits... limits) {
    take(name, false, into, limits...);
  }
  // Plate or customer: a problem does not repeat what was sent.
  void personal(std::string_view name, std::string& into) {
    known_.push_back(name);
    const json::value* found = object_.if_contains(name);
    if (found == nullptr || found->is_null()) {
      return;
    }
    if (!found->is_string() || found->get_string().size() > longest_personal) {
      fail(name, "must be a text of at most 200 bytes");
      return;
    }
    into = std::string{std::string_view{found->get_string()}};
  }

  // The first problem, or the first field that nobody asked for.
  [[nodiscard]] std::optional<Problem> problem(std::string_view what) const {
    if (problem_) {
      return problem_;
    }
    for (const auto& field : object_) {
      if (std::find(known_.begin(), known_.end(), std::string_view{field.key()}) == known_.end()) {
        return Problem{fmt::format("{} has no such field", what),
                       fmt::format("/{}", std::string_view{field.key()})};
      }
    }
    return std::nullopt;
  }

 private:
  template <class T, class... Limits>
  void take(std::string_view name, bool must, T& into, Limits... limits) {
    known_.push_back(name);
    const json::value* found = object_.if_contains(name);
    if (found == nullptr || found->is_null()) {
      if (must) {
        fail(name, "is missing");
      }
      return;
    }
    read(name, *found, into, limits...);
  }

  void fail(std::string_view name, std::string what) {
    if (!problem_) {
      problem_ = Problem{std::move(what), fmt::format("/{}", name)};
    }
  }

  void read(std::string_view name, const json::value& found, std::string& into) {
    if (!found.is_string()) {
      fail(name, fmt::format("must be a text, not {}", json::serialize(found)));
    } else if (found.get_string().size() > longest_text) {
      fail(name, fmt::format("is longer than {} bytes", longest_text));
    } else {
      into = std::string{std::string_view{found.get_string()}};
    }
  }
  void read(std::string_view name, const json::value& found, bool& into) {
    if (!found.is_bool()) {
      fail(name, fmt::format("must be true or false, not {}", json::serialize(found)));
      return;
    }
    into = found.get_bool();
  }
  void read(std::string_view name, const json::value& found, Seq& into) {
    if (!found.is_int64() || found.get_int64() < 1) {
      fail(name, fmt::format("must be a number from 1, not {}", json::serialize(found)));
      return;
    }
    into = found.get_int64();
  }
  void read(std::string_view name, const json::value& found, std::optional<Seq>& into) {
    Seq number = 0;
    read(name, found, number);
    into = number;
  }
  void read(std::string_view name, const json::value& found, double& into, Bounds bounds) {
    if (!found.is_number()) {
      fail(name, fmt::format("must be a number, not {}", json::serialize(found)));
      return;
    }
    const double number = found.to_number<double>();
    if (!(number >= bounds.least && number <= bounds.most)) {
      fail(name, fmt::format("must be from {} to {}, not {}", bounds.least, bounds.most, number));
      return;
    }
    into = number;
  }
  void read(std::string_view name, const json::value& found, std::optional<double>& into, Bounds bounds) {
    double number = 0.0;
    read(name, found, number, bounds);
    into = number;
  }
  void read(std::string_view name, const json::value& found, int& into, Bounds bounds) {
    double number = 0.0;
    read(name, found, number, bounds);
    if (number != std::floor(number)) {
      fail(name, fmt::format("must be a whole number, not {}", number));
      return;
    }
    into = static_cast<int>(number);
  }
  void read(std::string_view name, const json::value& found, Time& into) {
    if (!found.is_string()) {
      fail(name, fmt::format("must be a time as RFC 3339, not {}", json::serialize(found)));
      return;
    }
    const auto time = parse_rfc3339(found.get_string());
    if (!time) {
      fail(name, to_string(time.error()));
      return;
    }
    into = *time;
  }
  void read(std::string_view name, const json::value& found, std::optional<Time>& into) {
    Time time{};
    read(name, found, time);
    into = time;
  }
  template <class E>
  requires std::is_enum_v<E>
  void read(std::string_view name, const json::value& found, E& into) {
    if (found.is_string()) {
      if (const auto value = from_name<E>(found.get_string())) {
        into = *value;
        return;
      }
    }
    fail(name, fmt::format("must be one of {}, not {}", fmt::join(words<E>, ", "), json::serialize(found)));
  }
  void read(std::string_view name, const json::value& found, std::optional<models::ZoneKind>& into) {
    models::ZoneKind zone{};
    read(name, found, zone);
    into = zone;
  }
  void read(std::string_view name, const json::value& found, std::vector<models::ZoneKind>& into) {
    if (!found.is_array() || found.get_array().size() > 16) {
      fail(name, "must be a list of at most 16 zones");
      return;
    }
    for (const auto& word : found.get_array()) {
      models::ZoneKind kind{};
      read(name, word, kind);
      into.push_back(kind);
    }
  }
  void read(std::string_view name, const json::value& found, std::vector<SensorRead>& into) {
    if (!found.is_array() || found.get_array().empty() || found.get_array().size() > quantity_kinds) {
      fail(name, fmt::format("must be a list of 1 to {} objects", quantity_kinds));
      return;
    }
    for (const auto& item : found.get_array()) {
      const auto at = fmt::format("{}/{}", name, into.size());
      if (!item.is_object()) {
        fail(at, "must be an object");
        return;
      }
      FieldReader fields{item.get_object()};
      visit_read_fields(fields, into.emplace_back());
      if (const auto problem = fields.problem("a read")) {
        fail(at + problem->where, problem->what);
      }
    }
  }

  void read(std::string_view name, const json::value& found, std::vector<PlannedPiece>& into) {
    constexpr std::size_t most_pieces = 100;
    if (!found.is_array() || found.get_array().size() > most_pieces) {
      fail(name, fmt::format("must be a list of at most {} pieces", most_pieces));
      return;
    }
    for (const auto& one : found.get_array()) {
      if (!one.is_object()) {
        fail(name, "must hold objects with a panel");
        return;
      }
      FieldReader fields{one.get_object()};
      visit_fields(fields, into.emplace_back());
      if (const auto wrong = fields.problem("a planned piece")) {
        fail(fmt::format("{}/{}{}", name, into.size() - 1, wrong->where), wrong->what);
      }
    }
  }

  const json::object& object_;
  std::vector<std::string_view> known_;
  std::optional<Problem> problem_;
};

// Writes in the order of the list. Numbers by to_chars: the shortest text that reads back to the same value.
class FieldWriter {
 public:
  template <class T, class... Limits>
  void required(std::string_view name, const T& value, Limits... /*limits*/) {
    member(name, text(value));
  }
  template <class T, class... Limits>
  void optional(std::string_view name, const T& value, Limits... /*limits*/) {
    if (!is_default(value)) {
      member(name, text(value));
    }
  }
  [[nodiscard]] std::string done() && { return std::move(out_) + "}"; }

 private:
  template <class T>
  static bool is_default(const T& value) {
    if constexpr (std::is_enum_v<T> || std::is_same_v<T, int>) {
      return false;  // their default is a choice, and the record shows it
    } else {
      return value == T{};
    }
  }
  void member(std::string_view name, const std::string& value) {
    out_ += fmt::format("{}\"{}\":{}", out_.empty() ? "{" : ",", name, value);
  }

  static std::string text(const std::string& value) {
    return json::serialize(json::value(json::string(value)));
  }
  static std::string text(bool value) { return value ? "true" : "false"; }
  static std::string text(int value) { return fmt::format("{}", value); }
  static std::string text(Seq value) { return fmt::format("{}", value); }
  static std::string text(double value) { return fmt::format("{}", value); }
  static std::string text(Time value) { return fmt::format("\"{}\"", to_rfc3339(value)); }
  template <class T>
  static std::string text(const std::optional<T>& value) {
    return value ? text(*value) : "null";
  }
  template <class E>
  requires std::is_enum_v<E>
  static std::string text(E value) { return fmt::format("\"{}\"", name_of(value)); }
  static std::string text(const std::vector<models::ZoneKind>& zones) {
    std::string list;
    for (const auto zone : zones) {
      list += fmt::format("{}{}", list.empty() ? "" : ",", text(zone));
    }
    return fmt::format("[{}]", list);
  }
  static std::string text(const std::vector<SensorRead>& reads) {
    std::string list;
    for (const auto& read : reads) {
      FieldWriter fields;
      visit_read_fields(fields, read);
      list += fmt::format("{}{}", list.empty() ? "" : ",", std::move(fields).done());
    }
    return fmt::format("[{}]", list);
  }

  static std::string text(const std::vector<PlannedPiece>& pieces) {
    std::string list;
    for (const auto& piece : pieces) {
      FieldWriter fields;
      visit_fields(fields, piece);
      list += (list.empty() ? "" : ",") + std::move(fields).done();
    }
    return fmt::format("[{}]", list);
  }

  std::string out_;
};

// The detail whose name is `what`, with its default values.
template <std::size_t I = 0>
std::optional<EventDetail> blank_detail(std::string_view what) {
  if constexpr (I < std::variant_size_v<EventDetail>) {
    return event_names[I] == what ? std::optional<EventDetail>{EventDetail{std::in_place_index<I>}}
                                  : blank_detail<I + 1>(what);
  } else {
    return std::nullopt;
  }
}

// `more` takes off what is no part of the event.
template <class More>
Result<Event> read(std::string_view text, Time entered, const More& more) {
  boost::system::error_code error;
  const json::value document = json::parse(text, error);
  if (error) {
    return Problem{"not JSON: " + error.message(), ""};
  }
  if (!document.is_object()) {
    return Problem{"an event is a JSON object", ""};
  }
  FieldReader fields{document.get_object()};
  std::string what;
  fields.required("what", what);
  auto detail = blank_detail(what);
  if (!detail) {
    return Problem{fmt::format("must be one of {}", fmt::join(event_names, ", ")), "/what"};
  }

  more(fields, *detail);
  Event event;
  event.at = entered;
  event.entered = entered;
  fields.optional("at", event.at);
  fields.optional("who", event.who);
  fields.optional("note", event.note);
  fields.optional("key", event.key);
  std::visit([&](auto& d) { visit_fields(fields, d); }, *detail);
  if (auto problem = fields.problem(fmt::format("a \"{}\" event", what))) {
    return std::move(*problem);
  }
  event.detail = std::move(*detail);
  return event;
}

}  // namespace

Result<Event> parse_event(std::string_view text, Time entered) {
  return read(text, entered, [](FieldReader& /*fields*/, const EventDetail& /*detail*/) {});
}

Result<ToldEvent> read_told(std::string_view text, Time entered) {
  ToldEvent told;
  auto event = read(text, entered, [&](FieldReader& fields, const EventDetail& detail) {
    if (std::holds_alternative<VehicleIn>(detail)) {
      fields.personal("plate", told.plate);
      fields.personal("customer", told.customer);
    }
  });
  if (!event) {
    return event.error();
  }
  if (const auto* arrival = std::get_if<VehicleIn>(&event->detail)) {
    if (!arrival->plate_sha256.empty() || !arrival->customer_sha256.empty()) {
      return Problem{"is made by the daemon: send the text itself",
                     arrival->plate_sha256.empty() ? "/customer_sha256" : "/plate_sha256"};
    }
  }
  told.event = std::move(*event);
  settle(told.event.detail);
  return told;
}

std::string to_json(const Event& event) {
  FieldWriter fields;
  if (event.seq != 0) {
    fields.required("seq", event.seq);
    fields.required("entered", event.entered);
  }
  fields.required("what", std::string{event_names[event.detail.index()]});
  fields.required("at", event.at);
  fields.optional("who", event.who);
  fields.optional("note", event.note);
  fields.optional("key", event.key);
  std::visit([&](const auto& d) { visit_fields(fields, d); }, event.detail);
  return std::move(fields).done();
}

}  // namespace dryclock::ingest
