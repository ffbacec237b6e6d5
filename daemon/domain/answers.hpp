// What the API answers with, around the views: lists with their span, the shop as people see it, health.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "domain/air_ahead.hpp"
#include "domain/event_fields.hpp"
#include "domain/learned_view.hpp"
#include "domain/manner.hpp"
#include "domain/plate_view.hpp"
#include "domain/rechecks.hpp"
#include "domain/search.hpp"
#include "domain/sensor_view.hpp"
#include "domain/setup.hpp"
#include "domain/space.hpp"
#include "domain/view.hpp"

namespace dryclock {

struct CatalogueView {
  Site site;
  std::vector<FilmEntry> films;
  std::vector<SolutionEntry> solutions;
  std::vector<PanelEntry> panels;
  std::vector<TemplateEntry> templates;
  std::vector<MeasuredFilm> measured;
  WaterTable water{};
  std::vector<std::string> places{known_places.begin(), known_places.end()};
  std::vector<std::string> own_panels{}, own_places{};  // in the user's own words
};
void visit_fields(auto& f, Of<CatalogueView> auto& s) {
  f.type("Catalogue", "films, solutions and panels, and the shop's own words");
  f("site", s.site);
  f("films", s.films, "the first of each is the default");
  f("solutions", s.solutions);
  f("panels", s.panels);
  f("templates", s.templates);
  f("measured", s.measured);
  f("water", s.water, by<models::ZoneKind, models::Wetness>, "right after the squeegee, g/m2");
  f("places", s.places, "what parts of a panel are called; the words stand in the catalogue of messages");
  f("own_panels", s.own_panels, "that were laid in the user's own words, on vehicles of all years");
  f("own_places", s.own_places, "likewise, of parts");
}

struct AirAnswer {
  std::string bay;
  Time from, to;
  std::int64_t every = 1;
  std::vector<AirPoint> points;
};
void visit_fields(auto& f, Of<AirAnswer> auto& s) {
  f.type("Air", "a bay's air");
  f("bay", s.bay);
  f("from", s.from);
  f("to", s.to);
  f("every", s.every, AtLeast{1}, "minutes");
  f("points", s.points);
}

struct AirAheadAnswer {
  std::string bay;
  Time now;
  std::vector<AirHourAhead> hours;
};
void visit_fields(auto& f, Of<AirAheadAnswer> auto& s) {
  f.type("AirAhead", "a bay's air as it is expected");
  f("bay", s.bay);
  f("now", s.now);
  f("hours", s.hours, "three days; empty where nobody measures");
}

struct HistoryAnswer {
  PieceId piece = 0;
  std::vector<HistoryPoint> points;
};
void visit_fields(auto& f, Of<HistoryAnswer> auto& s) {
  f.type("History", "a piece's past");
  f("piece", s.piece, numbered);
  f("points", s.points, "in order of time");
}

struct AlertsAnswer {
  Time from, to;
  std::vector<AlertSummary> alerts;
};
void visit_fields(auto& f, Of<AlertsAnswer> auto& s) {
  f.type("Alerts", "raised in that span");
  f("from", s.from);
  f("to", s.to);
  f("alerts", s.alerts, "newest first");
}

struct EventsAnswer {
  std::vector<Event> events;
};
void visit_fields(auto& f, Of<EventsAnswer> auto& s) {
  f.type("Events", "as the journal keeps them");
  f("events", s.events, "superseded ones included");
}

// An event that is on disk and applied.
struct Accepted {
  Seq seq = 0;
  bool repeated = false;  // its idempotency key was known: this is the first answer again
  Event event;
};
void visit_fields(auto& f, Of<Accepted> auto& s) {
  f.type("Accepted", "an event that is on disk and applied");
  f("seq", s.seq, numbered);
  f("repeated", s.repeated, "its key was known: the first answer again");
  f("event", s.event);
}

// Several events told as one: all are taken, or none. Either events, or a deed that is taken back.
struct Deed {
  std::string key;
  std::vector<Event> events;
  std::string undo, who, note;
};
inline constexpr std::size_t most_in_a_deed = 100;
void visit_fields(auto& f, Of<Deed> auto& s) {
  f.type("Deed", "several events told as one: all are taken, or none");
  f("key", s.key, "idempotency key, and the deed's name from then on");
  f.optional("events", s.events, Sizes{0, most_in_a_deed}, "about pieces; their own keys are not read");
  f.optional("undo", s.undo, "a deed that is taken back, with all of it that stands; then without events");
  f.optional("who", s.who, "name or initials of who takes it back; each of the events has its own");
  f.optional("note", s.note, "why it is taken back; likewise");
}
// A deed that is on disk and applied.
struct DeedTaken {
  std::string deed;
  bool repeated = false;  // its key was known: this is the first answer again
  std::vector<Event> events;
};
void visit_fields(auto& f, Of<DeedTaken> auto& s) {
  f.type("DeedTaken", "a deed that is on disk and applied");
  f("deed", s.deed);
  f("repeated", s.repeated, "its key was known: the first answer again");
  f("events", s.events, "in the order in which they were told");
}

struct HandedOverAnswer {
  std::vector<HandedOver> vehicles;
};
void visit_fields(auto& f, Of<HandedOverAnswer> auto& s) {
  f.type("HandedOverList", "vehicles that have left");
  f("vehicles", s.vehicles, "newest first");
}

// Where alerts go.
struct Channel {
  std::string name, kind;
  AlertLevel least = AlertLevel::news;
};
void visit_fields(auto& f, Of<Channel> auto& s) {
  f.type("Channel", "where alerts go");
  f("name", s.name);
  f("kind", s.kind, "mqtt, webhook, mail or command");
  f("least", s.least, "what is below it does not go there");
}
struct Channels {
  std::vector<Channel> channels;
  std::string quiet;
};
void visit_fields(auto& f, Of<Channels> auto& s) {
  f.type("Channels", "ways out of the house");
  f("channels", s.channels);
  f("quiet", s.quiet, "local time, 22:00-06:30; empty: no quiet hours");
}
struct ChannelTest {
  std::string channel;
  bool delivered = false;
  std::string why;
};
void visit_fields(auto& f, Of<ChannelTest> auto& s) {
  f.type("ChannelTest", "whether a message arrived");
  f("channel", s.channel);
  f("delivered", s.delivered);
  f("why", s.why, "not; empty where it was delivered");
}

// One part of the daemon that can fail: "database", "broker", "clock".
struct HealthPart {
  std::string name;
  bool ok = true;
  Fact what;  // is so: "connected to localhost:1883"
};
void visit_fields(auto& f, Of<HealthPart> auto& s) {
  f.type("HealthPart", "one part of the daemon that can fail");
  f("name", s.name);
  f("ok", s.ok);
  f("what", s.what, "is so");
}
struct Health {
  bool ok = true;  // each part is
  std::string version;
  Time started;
  std::vector<HealthPart> parts;
  std::optional<Space> space{};
};
void visit_fields(auto& f, Of<Health> auto& s) {
  f.type("Health", "how the daemon is");
  f("ok", s.ok, "each part is");
  f("version", s.version);
  f("started", s.started);
  f("parts", s.parts);
  f("space", s.space, "null: not looked at yet");
}

struct Permission {
  bool may_write = false;
};
void visit_fields(auto& f, Of<Permission> auto& s) {
  f.type("Permission", "what who asks may do");
  f("may_write", s.may_write);
}

struct Personal {
  VehicleId vehicle = 0;
  std::optional<std::string> plate, customer;
};
void visit_fields(auto& f, Of<Personal> auto& s) {
  f.type("Personal", "kept outside the journal; null where it was not given, or has been erased");
  f("vehicle", s.vehicle, numbered);
  f("plate", s.plate);
  f("customer", s.customer);
}

struct SaltPoint {
  models::Salt salt = models::Salt::sodium_chloride;
  std::optional<double> expected_pct, expanded_pct;
};
void visit_fields(auto& f, Of<SaltPoint> auto& s) {
  f.type("SaltPoint", "the air over a saturated solution at 20 C: to choose by");
  f("salt", s.salt);
  f("expected_pct", s.expected_pct, "%RH");
  f("expanded_pct", s.expanded_pct, "its uncertainty, k = 2");
}
struct SensorsAnswer {
  Time now;
  std::vector<SensorView> sensors;
  std::vector<SaltPoint> salts;
};
void visit_fields(auto& f, Of<SensorsAnswer> auto& s) {
  f.type("Sensors", "the devices, and the salts to check them with");
  f("now", s.now);
  f("sensors", s.sensors);
  f("salts", s.salts);
}

struct CouponsAnswer {
  std::vector<CouponView> coupons;
  std::vector<BondCouponView> bond_coupons{};
};
void visit_fields(auto& f, Of<CouponsAnswer> auto& s) {
  f.type("Coupons", "film plates that are weighed, and strips that are pulled");
  f("coupons", s.coupons);
  f("bond_coupons", s.bond_coupons);
}

struct PlatesAnswer {
  std::vector<PlateView> plates;
};
void visit_fields(auto& f, Of<PlatesAnswer> auto& s) {
  f.type("Plates", "clear plates that are looked at as they dry");
  f("plates", s.plates);
}

// RFC 9457; `type` is about:blank: the status says what kind it is (section 4.2.1).
struct ProblemDetails {
  std::string type = "about:blank", title;
  int status = 500;
  std::string detail, where;
  std::optional<Fact> fact;
};
void visit_fields(auto& f, Of<ProblemDetails> auto& s) {
  f.type("Problem", "RFC 9457");
  f("type", s.type);
  f("title", s.title);
  f("status", s.status, AtLeast{400});
  f("detail", s.detail);
  f("where", s.where, "the field or parameter; empty: the whole");
  f.optional("fact", s.fact, "what an event was refused for; `detail` says it in English");
}
template <>
inline constexpr bool written_brief<ProblemDetails> = true;

// A vehicle as the broker's clients see it.
struct VehicleNews {
  std::string reference, bay;
  std::optional<Time> hand_over, release_ready;
  int release_percent = 0;  // whole: a probability that creeps is not news
  Spread release_expected;
  Fact held_by;
};
void visit_fields(auto& f, Of<VehicleNews> auto& s) {
  f.type("VehicleNews", "a vehicle as the broker's clients see it");
  f("reference", s.reference);
  f("bay", s.bay);
  f("hand_over", s.hand_over);
  f("release_ready", s.release_ready);
  f("release_percent", s.release_percent);
  f.flat(s.release_expected);
  f("held_by", s.held_by);
}

}  // namespace dryclock
