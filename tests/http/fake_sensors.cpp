#include "http/fake_sensors.hpp"

#include <algorithm>

#include "wire/event_json.hpp"

namespace dryclock::fake {
namespace {

using std::chrono::hours;
using std::chrono::seconds;

SensorView view_of(const SensorAssigned& assigned, Time now) {
  SensorView view;
  view.name = assigned.sensor;
  view.bay = assigned.bay;
  view.model = assigned.model;
  view.place = assigned.place;
  view.from_file = false;
  view.since = now;
  for (const auto& read : assigned.reads) {
    SensorView::Read one;
    one.mapping = {assigned.sensor, assigned.bay, read.topic,  read.quantity,    read.pointer,
                   read.unit,       read.slope,   read.offset, read.time_pointer};
    one.summary.sensor = assigned.sensor;
    one.summary.bay = assigned.bay;
    one.summary.quantity = read.quantity;
    view.reads.push_back(one);
  }
  return view;
}

SensorAssigned wall() {
  SensorAssigned wall;
  wall.sensor = "front-wall";
  wall.bay = "front";
  wall.reads = {{"sensors/front", "/t", Quantity::air_temperature, Unit::celsius, 1.0, 0.0, ""},
                {"sensors/front", "/h", Quantity::relative_humidity, Unit::percent, 1.0, 0.0, ""}};
  return wall;
}

SensorChecked off_by_three(const std::string& sensor) {
  SensorChecked result;
  result.sensor = sensor;
  result.temperature_c = 20.1;
  result.expected_pct = 75.5;
  result.expected_expanded_pct = 1.9;
  result.shown_pct = 80.5;
  result.readings = 60;
  result.verdict = models::SensorVerdict::off;
  result.slope = 1.0;
  result.offset = -5.0;
  return result;
}

}  // namespace

Sensors::Sensors(const Clock& clock) : clock_(clock) {
  auto front = view_of(wall(), clock.now());
  front.from_file = true;
  front.since.reset();
  front.heard = clock.now() - seconds{40};
  for (auto& read : front.reads) {
    read.summary.value = read.mapping.quantity == Quantity::air_temperature ? 16.5 : 61.0;
    read.summary.at = front.heard;
    read.summary.counts[static_cast<std::size_t>(Verdict::ok)] = 1200;
  }
  front.reads[1].summary.counts[static_cast<std::size_t>(Verdict::spike)] = 2;
  sensors_.push_back(front);
}

void Sensors::apply(const Event& event) {
  const auto named = [this](const std::string& name) {
    return std::ranges::find(sensors_, name, &SensorView::name);
  };
  if (const auto* assigned = std::get_if<SensorAssigned>(&event.detail)) {
    sensors_.push_back(view_of(*assigned, event.at));
  } else if (const auto* retired = std::get_if<SensorRetired>(&event.detail)) {
    std::erase_if(sensors_, [&](const auto& sensor) { return sensor.name == retired->sensor; });
  } else if (const auto* started = std::get_if<SensorCheckStarted>(&event.detail)) {
    if (const auto sensor = named(started->sensor); sensor != sensors_.end()) {
      // It has lain there long enough at once: this shop's time stands still.
      sensor->checking =
          CheckProgress{started->salt, event.at, event.at + hours{24}, 20.1,
                        80.5,          0.1,      "It shows 80.5.",     off_by_three(started->sensor)};
    }
  } else if (const auto* ended = std::get_if<SensorCheckEnded>(&event.detail)) {
    if (const auto sensor = named(ended->sensor); sensor != sensors_.end()) {
      sensor->checking.reset();
    }
  } else if (const auto* checked = std::get_if<SensorChecked>(&event.detail)) {
    if (const auto sensor = named(checked->sensor); sensor != sensors_.end()) {
      sensor->checking.reset();
      sensor->last_check = PastCheck{event.at, *checked, true, event.at + hours{365 * 24}};
    }
  } else if (const auto* corrected = std::get_if<SensorCorrected>(&event.detail)) {
    if (const auto sensor = named(corrected->sensor); sensor != sensors_.end() && sensor->last_check) {
      sensor->last_check->current = false;
    }
  } else if (const auto* laid = std::get_if<CouponLaid>(&event.detail)) {
    coupons_.push_back({event.seq, event.at, *laid, {}, {}, {}, "0 of 4 weighings count so far."});
  } else if (const auto* weighed = std::get_if<CouponWeighed>(&event.detail)) {
    for (auto& coupon : coupons_) {
      if (coupon.id == weighed->coupon) {
        coupon.weighings.push_back({event.seq, event.at, weighed->grams});
        coupon.result = FilmMeasured{coupon.coupon.film, coupon.coupon.lot, 4.5e9, 0.12, coupon.id, 1};
      }
    }
  } else if (const auto* measured = std::get_if<FilmMeasured>(&event.detail)) {
    measured_.push_back({event.seq, event.at, *measured});
    for (auto& coupon : coupons_) {
      if (coupon.id == measured->coupon) {
        coupon.result.reset();
        coupon.measured = *measured;
      }
    }
  }
}

void Sensors::add_services(http::Services& services) {
  services.sensors = [this] { return sensors_; };
  services.coupons = [this] { return coupons_; };
  services.measured_films = [this] { return measured_; };
  services.search_sensors = [this](int length) -> Result<void> {
    if (length == 13) {
      return Problem{"not connected to the broker", "broker"};
    }
    search_ = {true,
               clock_.now(),
               clock_.now() + seconds{length},
               {{"loft/air", R"({"t":18.4,"h":0.55})", 3, false, TopicKind::readings},
                {"loft/status", "online", 1, true, TopicKind::availability},
                {"sensors/front", R"({"t":16.5,"h":61})", 2, false, TopicKind::taken}},
               0,
               {{"loft",
                 {{"loft/air", "/t", Quantity::air_temperature, Unit::celsius, 1.0, 0.0, ""},
                  {"loft/air", "/h", Quantity::relative_humidity, Unit::fraction, 1.0, 0.0, ""}},
                 {"18.4", "0.55"},
                 {"0.55 is taken as a fraction by its size"}}}};
    return {};
  };
  services.sensor_search = [this] { return search_; };
  services.event_text = [this](const EventDetail& detail) {
    Event event;
    event.at = clock_.now();
    event.detail = detail;
    return wire::to_json(event);
  };
}

}  // namespace dryclock::fake
