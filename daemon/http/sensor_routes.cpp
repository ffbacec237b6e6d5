#include "http/sensor_routes.hpp"

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>

#include "domain/names.hpp"
#include "http/json_writer.hpp"
#include "models/salts.hpp"

namespace dryclock::http {
namespace {

constexpr int usual_seconds = 60, least_seconds = 5, most_seconds = 600;

void write_mapping(JsonWriter& json, const SensorMapping& mapping) {
  json.field("topic", mapping.topic);
  json.field("pointer", mapping.pointer);
  json.field("quantity", name_of(mapping.quantity));
  json.field("unit", name_of(mapping.unit));
  json.field("slope", mapping.slope);
  json.field("offset", mapping.offset);
  json.field("time_pointer", mapping.time_pointer);
}

void write_read(JsonWriter& json, const SensorView::Read& read) {
  json.begin_object();
  write_mapping(json, read.mapping);
  json.field("value", read.summary.value);
  json.field("at", read.summary.at);
  json.field("last_verdict", name_of(read.summary.last_verdict));
  json.key("counts");
  json.begin_object();
  for (std::size_t i = 0; i < verdicts; ++i) {
    json.field(words<Verdict>[i], read.summary.counts[i]);
  }
  json.end_object();
  json.end_object();
}

void write_event(JsonWriter& json, std::string_view name, const std::optional<std::string>& event) {
  json.key(name);
  if (event) {
    json.raw(*event);
  } else {
    json.null();
  }
}

void write_progress(JsonWriter& json, const CheckProgress& check, const Services& services) {
  json.begin_object();
  json.field("salt", name_of(check.salt));
  json.field("since", check.since);
  json.field("until", check.until);
  json.field("temperature_c", check.temperature_c);
  json.field("shown_pct", check.shown_pct);
  json.field("rise_pct_per_hour", check.rise_pct_per_hour);
  json.field("text", check.text);
  write_event(json, "result",
              check.result ? std::optional{services.event_text(*check.result)} : std::nullopt);
  json.end_object();
}

void write_past(JsonWriter& json, const PastCheck& check) {
  const auto& result = check.result;
  json.begin_object();
  json.field("at", check.at);
  json.field("due", check.due);
  json.field("current", check.current);
  json.field("salt", name_of(result.salt));
  json.field("temperature_c", result.temperature_c);
  json.field("expected_pct", result.expected_pct);
  json.field("expected_expanded_pct", result.expected_expanded_pct);
  json.field("shown_pct", result.shown_pct);
  json.field("tolerance_pct", result.tolerance_pct);
  json.field("verdict", name_of(result.verdict));
  json.field("slope", result.slope);
  json.field("offset", result.offset);
  json.end_object();
}

void write_sensor(JsonWriter& json, const SensorView& sensor, const Services& services) {
  json.begin_object();
  json.field("sensor", sensor.name);
  json.field("bay", sensor.bay);
  json.field("from", sensor.from_file ? "file" : "assigned");
  json.field("since", sensor.since);
  json.field("model", sensor.model);
  json.field("place", sensor.place);
  json.field("tolerance_pct", sensor.tolerance_pct);
  json.field("heard", sensor.heard);
  json.key("reads");
  json.begin_array();
  for (const auto& read : sensor.reads) {
    write_read(json, read);
  }
  json.end_array();
  json.key("checking");
  if (sensor.checking) {
    write_progress(json, *sensor.checking, services);
  } else {
    json.null();
  }
  json.key("last_check");
  if (sensor.last_check) {
    write_past(json, *sensor.last_check);
  } else {
    json.null();
  }
  json.end_object();
}

// What the air over each salt is expected to be at 20 C: to choose by.
void write_salts(JsonWriter& json) {
  json.key("salts");
  json.begin_array();
  for (std::size_t i = 0; i < models::salt_kinds; ++i) {
    const auto salt = static_cast<models::Salt>(i);
    const auto point = models::expected_humidity(salt, models::Celsius{20.0});
    json.begin_object();
    json.field("salt", name_of(salt));
    json.field("expected_pct", point ? std::optional{point->humidity.value() * 100.0} : std::nullopt);
    json.field("expanded_pct", point ? std::optional{point->expanded * 100.0} : std::nullopt);
    json.end_object();
  }
  json.end_array();
}

std::string sensors_json(const Services& services) {
  JsonWriter json;
  json.begin_object();
  json.field("now", services.now());
  json.key("sensors");
  json.begin_array();
  for (const auto& sensor : services.sensors()) {
    write_sensor(json, sensor, services);
  }
  json.end_array();
  write_salts(json);
  json.end_object();
  return std::move(json).text();
}

void write_proposal(JsonWriter& json, const ProposedSensor& sensor) {
  json.begin_object();
  json.field("name", sensor.name);
  json.key("reads");
  json.begin_array();
  for (std::size_t i = 0; i < sensor.reads.size(); ++i) {
    const auto& read = sensor.reads[i];
    json.begin_object();
    write_mapping(json, {"", "", read.topic, read.quantity, read.pointer, read.unit, read.slope, read.offset,
                         read.time_pointer});
    json.field("sample", sensor.samples[i]);
    json.end_object();
  }
  json.end_array();
  json.key("guesses");
  json.begin_array();
  for (const auto& guess : sensor.guesses) {
    json.value(guess);
  }
  json.end_array();
  json.end_object();
}

std::string search_json(const SensorSearch& search) {
  JsonWriter json;
  json.begin_object();
  json.field("running", search.running);
  json.field("started", search.started);
  json.field("until", search.until);
  json.field("left_off", search.left_off);
  json.key("topics");
  json.begin_array();
  for (const auto& topic : search.topics) {
    json.begin_object();
    json.field("topic", topic.topic);
    json.field("payload", topic.payload);
    json.field("count", topic.count);
    json.field("retained", topic.retained);
    json.field("kind", topic_kind_words[static_cast<std::size_t>(topic.kind)]);
    json.end_object();
  }
  json.end_array();
  json.key("sensors");
  json.begin_array();
  for (const auto& sensor : search.sensors) {
    write_proposal(json, sensor);
  }
  json.end_array();
  json.end_object();
  return std::move(json).text();
}

std::string coupons_json(const Services& services) {
  JsonWriter json;
  json.begin_object();
  json.key("coupons");
  json.begin_array();
  for (const auto& coupon : services.coupons()) {
    json.begin_object();
    json.field("coupon", coupon.id);
    json.field("laid", coupon.laid);
    json.field("film", coupon.coupon.film);
    json.field("lot", coupon.coupon.lot);
    json.field("bay", coupon.coupon.bay);
    json.field("area_m2", coupon.coupon.area_m2);
    json.field("water_grams", coupon.coupon.water_grams);
    json.key("weighings");
    json.begin_array();
    for (const auto& weighing : coupon.weighings) {
      json.begin_object();
      json.field("event", weighing.event);
      json.field("at", weighing.at);
      json.field("grams", weighing.grams);
      json.end_object();
    }
    json.end_array();
    json.field("text", coupon.text);
    write_event(json, "measured",
                coupon.measured ? std::optional{services.event_text(*coupon.measured)} : std::nullopt);
    write_event(json, "result",
                coupon.result ? std::optional{services.event_text(*coupon.result)} : std::nullopt);
    json.end_object();
  }
  json.end_array();
  json.end_object();
  return std::move(json).text();
}

Result<int> seconds_in(const std::string& body) {
  boost::system::error_code error;
  const auto document = boost::json::parse(body.empty() ? "{}" : body, error);
  if (error || !document.is_object()) {
    return Problem{"a JSON object", ""};
  }
  int seconds = usual_seconds;
  for (const auto& member : document.get_object()) {
    if (member.key() != "seconds") {
      return Problem{"no such field", "/" + std::string{std::string_view{member.key()}}};
    }
    const auto* number = member.value().if_int64();
    if (number == nullptr || *number < least_seconds || *number > most_seconds) {
      return Problem{"a whole number of seconds, 5 to 600", "/seconds"};
    }
    seconds = static_cast<int>(*number);
  }
  return seconds;
}

Response search(const Request& request, const Services& services) {
  if (lower_case(request.header("content-type").substr(0, 16)) != "application/json") {
    return problem_response(415, {"a search is asked for as application/json", "Content-Type"});
  }
  const auto seconds = seconds_in(request.body);
  if (!seconds) {
    return problem_response(400, seconds.error());
  }
  if (const auto begun = services.search_sensors(*seconds); !begun) {
    return problem_response(503, begun.error());
  }
  return json_response(search_json(services.sensor_search()), 202);
}

}  // namespace

void add_sensor_routes(Routes& routes, const Services& services) {
  routes.insert(routes.end(), {{"GET", "/api/v1/sensors", {}, at_once([&](const Asked&) {
                                  return json_response(sensors_json(services));
                                })},
                               {"GET", "/api/v1/sensors/search", {}, at_once([&](const Asked&) {
                                  return json_response(search_json(services.sensor_search()));
                                })},
                               {"POST", "/api/v1/sensors/search", {}, at_once([&](const Asked& asked) {
                                  return search(asked.request, services);
                                })},
                               {"GET", "/api/v1/coupons", {}, at_once([&](const Asked&) {
                                  return json_response(coupons_json(services));
                                })}});
}

}  // namespace dryclock::http
