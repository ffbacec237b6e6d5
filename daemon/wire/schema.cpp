#include "wire/schema.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>
#include <vector>

#include "domain/answers.hpp"
#include "domain/sensor_search.hpp"
#include "domain/setup_fields.hpp"
#include "wire/json_writer.hpp"
#include "wire/marks.hpp"

namespace dryclock::wire {
namespace {

// "vehicle-in": VehicleInEvent.
std::string event_schema_name(std::string_view what) {
  std::string name;
  bool starts = true;
  for (const char c : what) {
    if (c == '-') {
      starts = true;
    } else {
      name += starts ? static_cast<char>(c - 'a' + 'A') : c;
      starts = false;
    }
  }
  return name + "Event";
}

// The name that a shape gives itself.
class TypeName {
 public:
  void type(std::string_view name, std::string_view what) {
    if (name_.empty()) {
      name_ = name;
      what_ = what;
    }
  }
  void operator()(std::string_view /*name*/, const auto& /*what*/, const auto&... /*marks*/) const {}
  void optional(std::string_view /*name*/, const auto& /*what*/, const auto&... /*marks*/) const {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) const {}
  void flat(const auto& /*what*/) const {}

  [[nodiscard]] std::string name() const { return std::string{name_}; }
  [[nodiscard]] std::string_view what() const { return what_; }

 private:
  std::string_view name_, what_;
};

// All shapes described so far, by name.
using Shapes = std::map<std::string, std::string, std::less<>>;

template <class T>
void add_shape(Shapes& shapes, const std::string& name, std::string_view what);

// Writes the schema of one field after the other, and those of the shapes that they are made of.
class FieldSchema {
 public:
  explicit FieldSchema(Shapes& shapes) : shapes_(shapes) { out_.begin_object(); }

  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  template <class T, class... Marks>
  void operator()(std::string_view name, const T& what, const Marks&... marks) {
    required_.emplace_back(name);
    field(name, what, marks...);
  }
  template <class T, class... Marks>
  void optional(std::string_view name, const T& what, const Marks&... marks) {
    if (flat_) {
      required_.emplace_back(name);  // an answer tells all of it
    }
    field(name, what, marks...);
  }
  void apart(std::string_view name, std::string_view what) {
    out_.key(name);
    out_.begin_object();
    out_.field("type", "string");
    out_.field("maxLength", longest_apart);
    out_.field("writeOnly", true);
    out_.field("description", what);
    out_.end_object();
  }
  void flat(const auto& what) {
    const bool outer = std::exchange(flat_, true);
    visit_fields(*this, what);
    flat_ = outer;
  }
  // A word that is always the same.
  void constant(std::string_view name, std::string_view word) {
    required_.emplace_back(name);
    out_.key(name);
    out_.begin_object();
    out_.field("const", word);
    out_.end_object();
  }

  // The whole shape; what was collected is used up.
  [[nodiscard]] std::string object(std::string_view what) && {
    out_.end_object();
    JsonWriter all;
    all.begin_object();
    all.field("type", "object");
    if (!what.empty()) {
      all.field("description", what);
    }
    all.field("additionalProperties", false);
    all.key("required");
    all.begin_array();
    for (const auto& name : required_) {
      all.value(name);
    }
    all.end_array();
    all.key("properties");
    all.raw(std::move(out_).text());
    all.end_object();
    return std::move(all).text();
  }

 private:
  template <class T, class... Marks>
  void field(std::string_view name, const T& /*what*/, const Marks&... marks) {
    out_.key(name);
    out_.begin_object();
    inside<T>(marks...);
    (note(marks), ...);
    out_.end_object();
  }

  void note(const char* text) { out_.field("description", text); }
  void note(const Bounds& bounds) {
    out_.field("minimum", bounds.least);
    out_.field("maximum", bounds.most);
  }
  void note(const AtLeast& least) { out_.field("minimum", least.least); }
  void note(const Sizes& sizes) {
    out_.field("minItems", sizes.least);
    out_.field("maxItems", sizes.most);
  }
  void note(const MadeByDaemon& /*mark*/) { out_.field("readOnly", true); }
  void note(const OrNull& /*mark*/) const {}
  void note(const Flags& /*mark*/) const {}
  template <class... E>
  void note(const By<E...>& /*mark*/) const {}

  // The members of a schema; `null`: it may be that, too.
  template <class T, class... Marks>
  void inside(const Marks&... marks) {
    if constexpr (is_optional<T>) {
      kind<typename T::value_type>(true);
    } else {
      kind<T>(marked<OrNull, Marks...>, marks...);
    }
  }
  template <class T>
  void kind(bool null, const auto&... /*marks*/) {
    if constexpr (Word<T>) {
      choice(words<T>, null);
    } else if constexpr (std::same_as<T, bool>) {
      leaf("boolean", null);
    } else if constexpr (Whole<T> || std::same_as<T, Millis>) {
      leaf("integer", null);
      if constexpr (std::is_unsigned_v<T>) {
        out_.field("minimum", 0);
      }
    } else if constexpr (std::same_as<T, double> || InUnits<T>) {
      leaf("number", null);
    } else if constexpr (std::same_as<T, Time>) {
      leaf("string", null);
      out_.field("format", "date-time");
    } else if constexpr (std::same_as<T, std::string>) {
      leaf("string", null);
    } else if constexpr (List<T>) {
      leaf("array", null);
      out_.key("items");
      nested<std::remove_cvref_t<decltype(*std::declval<T>().begin())>>();
    } else {
      shape<T>(null);
    }
  }
  template <class T, class... E>
  void kind(bool /*null*/, const By<E...>& index, const auto&... /*marks*/) {
    by_words<T>(index);
  }
  template <class T>
  void kind(bool /*null*/, const Flags& /*flags*/, const auto&... /*marks*/) {
    std::array<std::string_view, validity_names.size()> names;
    std::ranges::transform(validity_names, names.begin(), [](const auto& flag) { return flag.second; });
    leaf("array", false);
    out_.key("items");
    out_.begin_object();
    choice(names, false);
    out_.end_object();
  }

  template <class T, class E, class... Further>
  void by_words(const By<E, Further...>& index) {
    using Element = typename T::value_type;
    leaf("object", false);
    out_.field("additionalProperties", false);
    out_.key("required");
    list(words<E>);
    out_.key("properties");
    out_.begin_object();
    for (const auto word : words<E>) {
      out_.key(word);
      if constexpr (sizeof...(Further) > 0) {
        out_.begin_object();
        by_words<Element>(further(index));
        out_.end_object();
      } else {
        nested<Element>();
      }
    }
    out_.end_object();
  }
  template <class T>
  void nested() {
    out_.begin_object();
    inside<T>();
    out_.end_object();
  }
  void leaf(std::string_view name, bool null) {
    out_.key("type");
    if (null) {
      list(std::array<std::string_view, 2>{name, "null"});
    } else {
      out_.value(name);
    }
  }
  void list(const auto& words, bool null = false) {
    out_.begin_array();
    for (const auto word : words) {
      out_.value(word);
    }
    if (null) {
      out_.null();
    }
    out_.end_array();
  }
  void choice(const auto& words, bool null) {
    out_.key("enum");
    list(words, null);
  }

  // A reference to it; it is described first where it is not yet.
  template <class T>
  void shape(bool null) {
    const std::string name = described<T>();
    if (null) {
      out_.key("oneOf");
      out_.begin_array();
      out_.begin_object();
      out_.field("$ref", "#/components/schemas/" + name);
      out_.end_object();
      out_.begin_object();
      out_.field("type", "null");
      out_.end_object();
      out_.end_array();
    } else {
      out_.field("$ref", "#/components/schemas/" + name);
    }
  }
  template <class T>
  std::string described() {
    if constexpr (std::same_as<T, Event>) {
      return "Event";
    } else if constexpr (Telling<T>) {
      return event_schema_name(what_of<T>());
    } else {
      TypeName type;
      visit_fields(type, std::as_const(blank<T>));
      add_shape<T>(shapes_, type.name(), type.what());
      return type.name();
    }
  }

  template <class T>
  static inline const T blank{};

  Shapes& shapes_;
  JsonWriter out_;
  std::vector<std::string> required_;
  bool flat_ = false;
};

template <class T>
void add_shape(Shapes& shapes, const std::string& name, std::string_view what) {
  if (shapes.contains(name)) {
    return;
  }
  shapes[name];  // from here on it is not begun again
  FieldSchema fields{shapes};
  const T blank{};
  visit_fields(fields, blank);
  shapes[name] = std::move(fields).object(what);
}

template <class Detail>
void add_event(Shapes& shapes) {
  const Event blank;
  FieldSchema fields{shapes};
  fields.constant("what", what_of<Detail>());
  fields.optional("seq", blank.seq, numbered, made_by_daemon);
  fields.optional("entered", blank.entered, made_by_daemon, "when it was entered");
  fields.optional("at", blank.at, "when it happened; when it was entered where left out");
  fields.optional("who", blank.who, "name or initials");
  fields.optional("note", blank.note);
  fields.optional("key", blank.key, "idempotency key: the same key is taken once");
  fields.optional("deed", blank.deed, made_by_daemon, "what was told as one deed has the same one");
  const Detail detail{};
  visit_fields(fields, detail);
  shapes[event_schema_name(what_of<Detail>())] = std::move(fields).object("");
}

template <class... Details>
void add_events(Shapes& shapes, const std::variant<Details...>* /*all*/) {
  (add_event<Details>(shapes), ...);
  JsonWriter json;
  json.begin_object();
  json.field("description", "what was done or found; seq and entered are there once the journal has it");
  json.key("oneOf");
  json.begin_array();
  for (const auto what : event_names) {
    json.begin_object();
    json.field("$ref", "#/components/schemas/" + event_schema_name(what));
    json.end_object();
  }
  json.end_array();
  json.end_object();
  shapes["Event"] = std::move(json).text();
}

template <class... Answers>
void add_answers(Shapes& shapes) {
  const auto add = [&]<class Answer>(const Answer& blank) {
    TypeName type;
    visit_fields(type, blank);
    add_shape<Answer>(shapes, type.name(), type.what());
  };
  (add(Answers{}), ...);
}

}  // namespace

std::string schemas() {
  Shapes shapes;
  add_events(shapes, static_cast<const EventDetail*>(nullptr));
  add_answers<Board, CatalogueView, AirAnswer, AirAheadAnswer, HistoryAnswer, AlertsAnswer, EventsAnswer,
              Accepted, HandedOverAnswer, Deed, DeedTaken, SearchAnswer, Channels, ChannelTest, Health,
              Permission, Personal, RecheckReport, SensorsAnswer, SensorSearch, CouponsAnswer, PlatesAnswer,
              LearnedView, ProblemDetails>(shapes);
  JsonWriter json;
  json.begin_object();
  for (const auto& [name, shape] : shapes) {
    json.key(name);
    json.raw(shape);
  }
  json.end_object();
  return std::move(json).text();
}

}  // namespace dryclock::wire
