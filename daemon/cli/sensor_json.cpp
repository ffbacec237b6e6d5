#include "cli/sensor_json.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <stdexcept>

#include "domain/names.hpp"
#include "ingest/event_json.hpp"

namespace dryclock::cli {
namespace {

namespace json = boost::json;

template <class T>
T wanted(std::optional<T> found, std::string_view name) {
  if (!found) {
    throw std::runtime_error(fmt::format(
        "the daemon's answer is not understood: {}; are daemon and client of one version?", name));
  }
  return *std::move(found);
}

const json::value& member(const json::value& object, std::string_view name) {
  const auto* found = object.is_object() ? object.get_object().if_contains(name) : nullptr;
  return *wanted(found == nullptr ? std::nullopt : std::optional{found}, name);
}

const json::array& list(const json::value& object, std::string_view name) {
  const auto* found = member(object, name).if_array();
  return *wanted(found == nullptr ? std::nullopt : std::optional{found}, name);
}

std::string text(const json::value& object, std::string_view name) {
  const auto* found = member(object, name).if_string();
  return wanted(found == nullptr ? std::nullopt : std::optional{std::string{std::string_view{*found}}}, name);
}

std::optional<double> maybe_number(const json::value& object, std::string_view name) {
  const auto& found = member(object, name);
  return found.is_number() ? std::optional{found.to_number<double>()} : std::nullopt;
}

double number(const json::value& object, std::string_view name) {
  return wanted(maybe_number(object, name), name);
}

template <class Whole>
Whole whole(const json::value& object, std::string_view name) {
  return static_cast<Whole>(number(object, name));
}

bool truth(const json::value& object, std::string_view name) {
  const auto* found = member(object, name).if_bool();
  return wanted(found == nullptr ? std::nullopt : std::optional{*found}, name);
}

std::optional<Time> maybe_time(const json::value& object, std::string_view name) {
  const auto& found = member(object, name);
  if (!found.is_string()) {
    return std::nullopt;
  }
  const auto time = parse_rfc3339(found.get_string());
  return time ? std::optional{*time} : std::nullopt;
}

Time time(const json::value& object, std::string_view name) {
  return wanted(maybe_time(object, name), name);
}

template <class E>
E word(const json::value& object, std::string_view name) {
  return wanted(from_name<E>(text(object, name)), name);
}

template <class Detail>
std::optional<Detail> event(const json::value& object, std::string_view name) {
  const auto& found = member(object, name);
  if (found.is_null()) {
    return std::nullopt;
  }
  auto read = ingest::parse_event(json::serialize(found), Time{});
  auto* detail = read ? std::get_if<Detail>(&read->detail) : nullptr;
  return wanted(detail == nullptr ? std::nullopt : std::optional{std::move(*detail)}, name);
}

json::value document(std::string_view answer) {
  boost::system::error_code error;
  auto value = json::parse(answer, error);
  if (error) {
    throw std::runtime_error("the daemon's answer is no JSON: " + error.message());
  }
  return value;
}

SensorRead read_of(const json::value& from) {
  return {text(from, "topic"),       text(from, "pointer"), word<Quantity>(from, "quantity"),
          word<Unit>(from, "unit"),  number(from, "slope"), number(from, "offset"),
          text(from, "time_pointer")};
}

SensorView::Read sensor_read(const json::value& from, const SensorView& sensor) {
  const auto read = read_of(from);
  SensorView::Read out;
  out.mapping = {sensor.name, sensor.bay, read.topic,  read.quantity,    read.pointer,
                 read.unit,   read.slope, read.offset, read.time_pointer};
  out.summary.sensor = sensor.name;
  out.summary.bay = sensor.bay;
  out.summary.quantity = read.quantity;
  out.summary.value = maybe_number(from, "value");
  out.summary.at = maybe_time(from, "at");
  out.summary.last_verdict = word<Verdict>(from, "last_verdict");
  for (std::size_t i = 0; i < verdicts; ++i) {
    out.summary.counts[i] = whole<std::uint64_t>(member(from, "counts"), words<Verdict>[i]);
  }
  return out;
}

CheckProgress progress(const json::value& from) {
  CheckProgress out;
  out.salt = word<models::Salt>(from, "salt");
  out.since = time(from, "since");
  out.until = time(from, "until");
  out.temperature_c = maybe_number(from, "temperature_c");
  out.shown_pct = maybe_number(from, "shown_pct");
  out.rise_pct_per_hour = maybe_number(from, "rise_pct_per_hour");
  out.text = text(from, "text");
  out.result = event<SensorChecked>(from, "result");
  return out;
}

PastCheck past(const json::value& from, const std::string& sensor) {
  PastCheck out;
  out.at = time(from, "at");
  out.due = time(from, "due");
  out.current = truth(from, "current");
  auto& result = out.result;
  result.sensor = sensor;
  result.salt = word<models::Salt>(from, "salt");
  result.temperature_c = number(from, "temperature_c");
  result.expected_pct = number(from, "expected_pct");
  result.expected_expanded_pct = number(from, "expected_expanded_pct");
  result.shown_pct = number(from, "shown_pct");
  result.tolerance_pct = number(from, "tolerance_pct");
  result.verdict = word<models::SensorVerdict>(from, "verdict");
  result.slope = maybe_number(from, "slope");
  result.offset = maybe_number(from, "offset");
  return out;
}

}  // namespace

SensorList parse_sensors(std::string_view answer) {
  const auto root = document(answer);
  SensorList out;
  out.now = time(root, "now");
  for (const auto& item : list(root, "sensors")) {
    SensorView sensor;
    sensor.name = text(item, "sensor");
    sensor.bay = text(item, "bay");
    sensor.model = text(item, "model");
    sensor.place = text(item, "place");
    sensor.from_file = text(item, "from") == "file";
    sensor.since = maybe_time(item, "since");
    sensor.tolerance_pct = number(item, "tolerance_pct");
    sensor.heard = maybe_time(item, "heard");
    for (const auto& read : list(item, "reads")) {
      sensor.reads.push_back(sensor_read(read, sensor));
    }
    if (!member(item, "checking").is_null()) {
      sensor.checking = progress(member(item, "checking"));
    }
    if (!member(item, "last_check").is_null()) {
      sensor.last_check = past(member(item, "last_check"), sensor.name);
    }
    out.sensors.push_back(std::move(sensor));
  }
  return out;
}

SensorSearch parse_search(std::string_view answer) {
  const auto root = document(answer);
  SensorSearch out;
  out.running = truth(root, "running");
  out.started = maybe_time(root, "started");
  out.until = maybe_time(root, "until");
  out.left_off = whole<std::uint64_t>(root, "left_off");
  for (const auto& item : list(root, "topics")) {
    const auto kind = text(item, "kind");
    const auto known = std::ranges::find(topic_kind_words, kind);
    out.topics.push_back(
        {text(item, "topic"), text(item, "payload"), whole<int>(item, "count"), truth(item, "retained"),
         known == topic_kind_words.end() ? TopicKind::other
                                         : static_cast<TopicKind>(known - topic_kind_words.begin())});
  }
  for (const auto& item : list(root, "sensors")) {
    ProposedSensor sensor;
    sensor.name = text(item, "name");
    for (const auto& read : list(item, "reads")) {
      sensor.reads.push_back(read_of(read));
      sensor.samples.push_back(text(read, "sample"));
    }
    for (const auto& guess : list(item, "guesses")) {
      sensor.guesses.emplace_back(std::string_view{guess.as_string()});
    }
    out.sensors.push_back(std::move(sensor));
  }
  return out;
}

std::vector<CouponView> parse_coupons(std::string_view answer) {
  const auto root = document(answer);
  std::vector<CouponView> out;
  for (const auto& item : list(root, "coupons")) {
    CouponView coupon;
    coupon.id = whole<Seq>(item, "coupon");
    coupon.laid = time(item, "laid");
    coupon.coupon = {text(item, "film"), text(item, "lot"), text(item, "bay"), number(item, "area_m2"),
                     number(item, "water_grams")};
    for (const auto& weighing : list(item, "weighings")) {
      coupon.weighings.push_back(
          {whole<Seq>(weighing, "event"), time(weighing, "at"), number(weighing, "grams")});
    }
    coupon.text = text(item, "text");
    coupon.measured = event<FilmMeasured>(item, "measured");
    coupon.result = event<FilmMeasured>(item, "result");
    out.push_back(std::move(coupon));
  }
  return out;
}

}  // namespace dryclock::cli
