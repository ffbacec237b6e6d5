#include "cli/view_json.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <limits>
#include <stdexcept>

#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

namespace json = boost::json;

[[noreturn]] void unexpected(std::string_view field, std::string_view wanted) {
  throw std::runtime_error(fmt::format(
      "the daemon's answer is not understood: {} should be {}; are daemon and client of one version?", field,
      wanted));
}

json::value document(std::string_view text) {
  boost::system::error_code error;
  auto value = json::parse(text, error);
  if (error || !value.is_object()) {
    unexpected("it", "a JSON object");
  }
  return value;
}

void read(const json::value& from, std::string_view name, std::string& into) {
  if (!from.is_string()) unexpected(name, "text");
  into = std::string(from.get_string());
}
void read(const json::value& from, std::string_view name, bool& into) {
  if (!from.is_bool()) unexpected(name, "true or false");
  into = from.get_bool();
}
template <class Whole>
requires std::is_integral_v<Whole>
void read(const json::value& from, std::string_view name, Whole& into) {
  if (!from.is_int64() && !from.is_uint64()) unexpected(name, "a whole number");
  into = from.to_number<Whole>();
}
void read(const json::value& from, std::string_view name, double& into) {
  if (from.is_null()) {
    into = std::numeric_limits<double>::quiet_NaN();
    return;
  }
  if (!from.is_number()) unexpected(name, "a number");
  into = from.to_number<double>();
}
void read(const json::value& from, std::string_view name, Time& into) {
  const auto time = from.is_string() ? parse_rfc3339(from.get_string()) : Result<Time>(Problem{});
  if (!time) unexpected(name, "a time");
  into = *time;
}
template <class E>
requires std::is_enum_v<E>
void read(const json::value& from, std::string_view name, E& into) {
  const auto value = from.is_string() ? from_name<E>(from.get_string()) : std::nullopt;
  if (!value) unexpected(name, "a known word");
  into = *value;
}
template <class T>
void read(const json::value& from, std::string_view name, std::optional<T>& into) {
  if (from.is_null()) {
    into = std::nullopt;
    return;
  }
  T value{};
  read(from, name, value);
  into = value;
}

// One object of the answer.
class Fields {
 public:
  Fields(const json::value& value, std::string_view name) : object_(value.if_object()), name_(name) {
    if (object_ == nullptr) unexpected(name, "an object");
  }
  template <class T>
  const Fields& operator()(std::string_view name, T& into) const {
    read(at(name), name, into);
    return *this;
  }
  [[nodiscard]] const json::value& at(std::string_view name) const {
    const auto* found = object_->if_contains(name);
    if (found == nullptr) unexpected(fmt::format("{}/{}", name_, name), "there");
    return *found;
  }
  template <class T, class Read>
  void list(std::string_view name, std::vector<T>& into, Read read_one) const {
    const auto* array = at(name).if_array();
    if (array == nullptr) unexpected(name, "a list");
    for (const auto& item : *array) {
      T one{};
      read_one(item, one);
      into.push_back(std::move(one));
    }
  }

 private:
  const json::object* object_;
  std::string_view name_;
};

// A count for each word of an enumeration.
template <class E, std::size_t n>
void read_counts(const Fields& fields, std::string_view name, std::array<std::uint64_t, n>& into) {
  static_assert(n == words<E>.size());
  const Fields counts(fields.at(name), name);
  for (std::size_t i = 0; i < n; ++i) {
    counts(words<E>[i], into[i]);
  }
}

void read_quantiles(const json::value& from, models::Quantiles& q) {
  Fields(from, "quantiles")("low", q.low)("likely", q.likely)("high", q.high);
}

void read_spread(const json::value& from, Spread& s) {
  Fields(from, "spread")("early", s.early)("likely", s.likely)("late", s.late);
}

std::uint8_t read_validity(const Fields& fields) {
  std::vector<std::string> words_there;
  fields.list("validity", words_there,
              [](const json::value& v, std::string& word) { read(v, "validity", word); });
  std::uint8_t validity = models::valid;
  for (const auto& [flag, word] : validity_names) {
    if (std::find(words_there.begin(), words_there.end(), word) != words_there.end()) {
      validity = static_cast<std::uint8_t>(validity | flag);
    }
  }
  return validity;
}

void read_zone(const json::value& from, models::ZoneView& zone) {
  const Fields fields(from, "zone");
  fields("kind", zone.kind)("dry_probability", zone.dry_probability);
  read_quantiles(fields.at("water"), zone.water);
  read_quantiles(fields.at("excess"), zone.excess);
  read_quantiles(fields.at("bond"), zone.bond);
  read_quantiles(fields.at("hours_to_go"), zone.hours_to_go);
  zone.validity = read_validity(fields);
}

void read_milestone(const json::value& from, MilestoneView& milestone) {
  const Fields fields(from, "milestone");
  fields("which", milestone.which)("probability", milestone.probability)("announced", milestone.announced)(
      "held_by", milestone.held_by);
  read_spread(fields.at("expected"), milestone.expected);
}

void read_piece(const json::value& from, PieceSummary& piece) {
  const Fields fields(from, "piece");
  fields("id", piece.id)("panel", piece.panel)("part", piece.part)("parts", piece.parts)("film", piece.film)(
      "solution", piece.solution)("wetness", piece.wetness)("laid", piece.laid)("wrapped", piece.wrapped)(
      "trimmed", piece.trimmed)("refitted", piece.refitted)("removed", piece.removed)(
      "replaced_by", piece.replaced_by)("replaces", piece.replaces)("as_of", piece.as_of)(
      "standard_hours", piece.standard_hours);
  Fields(fields.at("notes"), "notes")("tension", piece.notes.tension)("relief_cuts", piece.notes.relief_cuts)(
      "joins", piece.notes.joins);
  fields.list("gone", piece.gone,
              [](const json::value& v, std::string& kind) { kind = std::string{v.as_string()}; });
  const Fields state(fields.at("state"), "state");
  double panel_c = 0.0;
  state("panel_c", panel_c);
  piece.state.panel = models::Celsius{panel_c};
  piece.state.validity = read_validity(state);
  state.list("zones", piece.state.zones, read_zone);
  std::vector<MilestoneView> milestones;
  fields.list("milestones", milestones, read_milestone);
  for (const auto& milestone : milestones) {
    const auto at = static_cast<std::size_t>(milestone.which);
    piece.milestones[at] = milestone;
    piece.state.probability[at] = milestone.probability;
  }
  fields.list("early_steps", piece.early_steps, [](const json::value& v, EarlyStep& early) {
    Fields(v, "early step")("event", early.event)("step", early.step)("probability", early.probability)(
        "still_wet", early.still_wet);
  });
}

void read_planned(const json::value& from, PlannedPiece& piece) {
  Fields(from, "planned piece")("panel", piece.panel)("part", piece.part)("parts", piece.parts);
}

void read_to_lay(const json::value& from, PieceToLay& piece) {
  read_planned(from, piece);
  Fields(from, "piece to lay")("lay_by", piece.lay_by)("chance_now", piece.chance_now);
}

void read_vehicle(const json::value& from, VehicleSummary& vehicle) {
  const Fields fields(from, "vehicle");
  fields("id", vehicle.id)("reference", vehicle.reference)("bay", vehicle.bay)("arrived", vehicle.arrived)(
      "hand_over", vehicle.hand_over)("released", vehicle.released)(
      "release_probability", vehicle.release_probability)("release_ready", vehicle.release_ready)(
      "held_by", vehicle.held_by)("hand_over_probability", vehicle.hand_over_probability);
  read_spread(fields.at("release_expected"), vehicle.release_expected);
  fields.list("to_lay", vehicle.to_lay, read_to_lay);
  fields.list("pieces", vehicle.pieces, read_piece);
}

void read_sensor(const json::value& from, SensorSummary& sensor) {
  Fields(from, "sensor")("sensor", sensor.sensor)("bay", sensor.bay)("quantity", sensor.quantity)(
      "value", sensor.value)("at", sensor.at)("last_verdict", sensor.last_verdict);
}

void read_bay(const json::value& from, BaySummary& bay) {
  const Fields fields(from, "bay");
  fields("name", bay.name)("gone", bay.gone)("air_c", bay.air_c)("rh_pct", bay.rh_pct)(
      "panel_c", bay.panel_c)("dew_point_c", bay.dew_point_c)("vapour_density_gm3", bay.vapour_density_gm3)(
      "pace", bay.pace)("as_of", bay.as_of);
  fields.list("sensors", bay.sensors, read_sensor);
}

void read_alert(const json::value& from, AlertSummary& alert) {
  Fields(from, "alert")("id", alert.id)("rule", alert.rule)("subject", alert.subject)("level", alert.level)(
      "raised", alert.raised)("cleared", alert.cleared)("acknowledged", alert.acknowledged)(
      "text", alert.text)("advice", alert.advice);
}

void read_event(const json::value& from, EventLine& line) {
  const Fields fields(from, "event");
  fields("seq", line.seq)("at", line.at)("what", line.what);
  for (const auto& [key, value] : from.get_object()) {
    const std::string_view name = key;
    if (name == "who") {
      read(value, name, line.who);
    } else if (name == "note") {
      read(value, name, line.note);
    } else if (name != "seq" && name != "at" && name != "what" && name != "entered" && name != "key") {
      const auto text = value.is_string()   ? std::string(value.get_string())
                        : value.is_double() ? fmt::format("{:.4g}", value.get_double())
                                            : json::serialize(value);
      line.fields += fmt::format("{}{} {}", line.fields.empty() ? "" : ", ", name, text);
    }
  }
}

}  // namespace

Board parse_board(std::string_view text) {
  const auto value = document(text);
  const Fields fields(value, "board");
  Board board;
  fields("now", board.now)("applied", board.applied);
  fields.list("bays", board.bays, read_bay);
  fields.list("vehicles", board.vehicles, read_vehicle);
  fields.list("alerts", board.alerts, read_alert);
  const Fields counters(fields.at("counters"), "counters");
  counters("messages", board.counters.messages)("readings", board.counters.readings)("events",
                                                                                     board.counters.events);
  read_counts<RejectReason>(counters, "rejects", board.counters.rejects);
  read_counts<Verdict>(counters, "verdict", board.counters.verdict);
  return board;
}

std::vector<AirPoint> parse_air(std::string_view text) {
  const auto value = document(text);
  std::vector<AirPoint> points;
  Fields(value, "air").list("points", points, [](const json::value& v, AirPoint& p) {
    Fields(v, "point")("at", p.at)("air_c", p.air_c)("rh_pct", p.rh_pct)("panel_c", p.panel_c)(
        "dew_point_c", p.dew_point_c)("air_speed", p.air_speed)("pace", p.pace)("bridged", p.bridged);
  });
  return points;
}

std::vector<AlertSummary> parse_alerts(std::string_view text) {
  const auto value = document(text);
  std::vector<AlertSummary> alerts;
  Fields(value, "answer").list("alerts", alerts, read_alert);
  return alerts;
}

std::vector<HandedOver> parse_handed_over(std::string_view text) {
  const auto value = document(text);
  std::vector<HandedOver> vehicles;
  Fields(value, "answer").list("vehicles", vehicles, [](const json::value& v, HandedOver& vehicle) {
    const Fields fields(v, "vehicle");
    fields("id", vehicle.vehicle)("reference", vehicle.reference)("released", vehicle.released)(
        "recheck_from", vehicle.recheck_from)("recheck_until", vehicle.recheck_until);
    fields.list("pieces", vehicle.pieces, [](const json::value& p, HandedOver::Piece& piece) {
      const Fields one(p, "piece");
      one("id", piece.id)("panel", piece.panel)("part", piece.part)("parts", piece.parts)("rechecked",
                                                                                          piece.rechecked);
      if (piece.rechecked) {
        one("finding", piece.finding.emplace());
      }
    });
  });
  return vehicles;
}

std::string parse_channel_test(std::string_view text) {
  const auto value = document(text);
  bool delivered = false;
  std::string why;
  Fields(value, "answer")("delivered", delivered)("why", why);
  return delivered ? "" : why;
}

std::vector<std::string> parse_channels(std::string_view text) {
  const auto value = document(text);
  std::vector<std::string> names;
  Fields(value, "answer").list("channels", names, [](const json::value& v, std::string& name) {
    Fields(v, "channel")("name", name);
  });
  return names;
}

Shop parse_shop(std::string_view text) {
  const auto value = document(text);
  const Fields fields(value, "catalogue");
  Shop shop;
  std::string dialect;
  std::string unit;
  Fields(fields.at("site"), "site")("name", shop.name)("time_zone", shop.time_zone)("dialect", dialect)(
      "temperature_unit", unit);
  shop.us_words = dialect == "us";
  shop.fahrenheit = unit == "F";
  fields.list("films", shop.catalogue.films, [](const json::value& v, FilmEntry& film) {
    Fields(v, "film")("key", film.key)("label", film.label);
  });
  fields.list("solutions", shop.catalogue.solutions, [](const json::value& v, SolutionEntry& solution) {
    Fields(v, "solution")("key", solution.key)("label", solution.label)("alcohol_fraction",
                                                                        solution.solution.alcohol_fraction);
  });
  fields.list("panels", shop.catalogue.panels, [](const json::value& v, PanelEntry& panel) {
    Fields(v, "panel")("key", panel.key)("label_uk", panel.label_uk)("label_us", panel.label_us)(
        "area_m2", panel.area_m2);
  });
  fields.list("templates", shop.catalogue.templates, [](const json::value& v, TemplateEntry& entry) {
    const Fields one(v, "template");
    one("key", entry.key)("label_uk", entry.label_uk)("label_us", entry.label_us);
    one.list("pieces", entry.pieces, read_planned);
  });
  return shop;
}

HealthReport parse_health(std::string_view text) {
  const auto value = document(text);
  const Fields fields(value, "health");
  HealthReport report;
  fields("ok", report.ok)("version", report.version)("started", report.started);
  fields.list("parts", report.parts, [](const json::value& v, HealthReport::Part& part) {
    Fields(v, "part")("name", part.name)("ok", part.ok)("text", part.text);
  });
  if (const auto& space = fields.at("space"); !space.is_null()) {
    auto& into = report.space.emplace();
    Fields(space, "space")("database_bytes", into.database_bytes)("seal_bytes", into.seal_bytes)(
        "free_bytes", into.free_bytes)("bytes_per_day", into.bytes_per_day)("years_left", into.years_left);
  }
  return report;
}

std::vector<EventLine> parse_events(std::string_view text) {
  const auto value = document(text);
  std::vector<EventLine> events;
  Fields(value, "answer").list("events", events, read_event);
  return events;
}

RecheckReport parse_rechecks(std::string_view text) {
  const auto value = document(text);
  const Fields fields(value, "rechecks");
  RecheckReport report;
  fields("vehicles", report.vehicles)("pending", report.pending)("few_below", report.few_below);
  fields.list("groups", report.groups, [](const json::value& v, RecheckGroup& group) {
    Fields(v, "group")("by", group.by)("of", group.of)("pieces", group.pieces)("lifted", group.lifted)(
        "low", group.low)("high", group.high)("few", group.few);
  });
  return report;
}

Personal parse_personal(std::string_view text) {
  const auto value = document(text);
  std::optional<std::string> plate;
  std::optional<std::string> customer;
  Fields(value, "personal")("plate", plate)("customer", customer);
  return {plate.value_or(""), customer.value_or("")};
}

Seq parse_accepted(std::string_view text) {
  const auto value = document(text);
  Seq seq = 0;
  Fields(value, "answer")("seq", seq);
  return seq;
}

std::string parse_problem(std::string_view text) {
  boost::system::error_code error;
  const auto value = json::parse(text, error);
  const auto* object = error ? nullptr : value.if_object();
  const auto* detail = object == nullptr ? nullptr : object->if_contains("detail");
  if (detail == nullptr || !detail->is_string()) {
    return "";
  }
  std::string message(detail->get_string());
  if (const auto* where = object->if_contains("where"); where != nullptr && where->is_string()) {
    message += fmt::format(" ({})", std::string_view(where->get_string()));
  }
  return message;
}

}  // namespace dryclock::cli
