#include <doctest/doctest.h>

#include "app/publisher.hpp"
#include "app/times.hpp"
#include "support/core_shop.hpp"
#include "support/said.hpp"
#include "support/small_shop.hpp"
#include "wording/spoken.hpp"

namespace dryclock::app {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

AlertRow raised(AlertRule rule, AlertLevel level, const char* at) {
  AlertRow row;
  row.alert.id = std::string{alert_rule_names[static_cast<std::size_t>(rule)]} + "/front";
  row.alert.rule = rule;
  row.alert.level = level;
  row.alert.raised = utc(at);
  row.alert.what = {"alerts.bay-cold",
                    {say::text("bay", "front"), say::celsius("air", 10.0), say::celsius("limit", 12.0),
                     say::span("for", minutes{10})}};
  row.alert = wording::spoken(row.alert, support::words());
  return row;
}

Publisher shop(bool quiet, Manner manner = {}) {
  std::vector<Publisher::Channel> channels;
  channels.push_back({"phone", AlertLevel::news, support::words(manner)});
  channels.push_back({"siren", AlertLevel::urgent, support::words()});
  return {std::move(channels),
          QuietTimes{quiet ? std::optional{QuietHours{hours{22}, hours{6}}} : std::nullopt,
                     LocalZone::find("UTC").value()}};
}

// "phone mqtt": the channels in order.
std::string channels(const std::vector<Outgoing>& messages) {
  std::string text;
  for (const auto& message : messages) {
    text += (text.empty() ? "" : " ") + message.channel;
  }
  return text;
}

// "vehicle/2 told, vehicle/3 empty": what is sent of vehicles, in order.
std::string of_vehicles(const std::vector<Outgoing>& messages) {
  std::string text;
  for (const auto& message : messages) {
    REQUIRE(message.channel == "mqtt");
    REQUIRE(message.retained);
    text += (text.empty() ? "" : ", ") + message.topic + (message.payload.empty() ? " empty" : " told");
  }
  return text;
}

VehicleSummary van(VehicleId id) {
  VehicleSummary vehicle;
  vehicle.id = id;
  vehicle.reference = "grey van";
  vehicle.bay = "front";
  return vehicle;
}

}  // namespace

TEST_CASE("an alert goes to the channels of its level and above, and is kept on MQTT") {
  const auto publisher = shop(false);
  const auto warning = raised(AlertRule::bay_damp, AlertLevel::warning, "2026-03-02T23:00:00Z");
  CHECK(channels(publisher.alerts({warning}, utc("2026-03-02T23:00:00Z"))) == "mqtt phone");
  const auto urgent = raised(AlertRule::dew, AlertLevel::urgent, "2026-03-02T23:00:00Z");
  CHECK(channels(publisher.alerts({urgent}, utc("2026-03-02T23:00:00Z"))) == "mqtt phone siren");
  auto restated = warning;
  restated.step = AlertStep::restated;
  CHECK(channels(publisher.alerts({restated}, utc("2026-03-02T23:00:00Z"))) ==
        "mqtt");  // nobody is told again
}

TEST_CASE("at night an urgent alert passes, another waits for the morning and comes once") {
  auto publisher = shop(true);
  const auto urgent = raised(AlertRule::dew, AlertLevel::urgent, "2026-03-02T23:00:00Z");
  const auto news = raised(AlertRule::piece_ready, AlertLevel::news, "2026-03-03T02:00:00Z");
  CHECK(channels(publisher.alerts({urgent}, utc("2026-03-02T23:00:00Z"))) == "mqtt phone siren");
  CHECK(channels(publisher.alerts({news}, utc("2026-03-03T02:00:10Z"))) == "mqtt");
  const std::vector<AlertSummary> open{urgent.alert, news.alert};
  CHECK(publisher.after_quiet(open, utc("2026-03-03T05:59:59Z")).empty());
  const auto waited = publisher.after_quiet(open, utc("2026-03-03T06:00:01Z"));
  REQUIRE(channels(waited) == "phone");
  CHECK(waited[0].payload.find("piece-ready") != std::string::npos);
  CHECK(publisher.after_quiet(open, utc("2026-03-03T06:00:06Z")).empty());
}

TEST_CASE("what is over, or was seen, by the morning is not told any more") {
  auto publisher = shop(true);
  CHECK(publisher.after_quiet({}, utc("2026-03-02T21:00:00Z")).empty());
  auto seen = raised(AlertRule::bay_damp, AlertLevel::warning, "2026-03-03T02:00:00Z");
  CHECK(channels(publisher.alerts({seen}, utc("2026-03-03T02:00:00Z"))) == "mqtt");
  seen.alert.acknowledged = utc("2026-03-03T03:00:00Z");
  CHECK(publisher.after_quiet({seen.alert}, utc("2026-03-03T06:00:01Z")).empty());
  // One from before the night was told then.
  auto evening = raised(AlertRule::bay_damp, AlertLevel::warning, "2026-03-03T21:30:00Z");
  CHECK(channels(publisher.alerts({evening}, utc("2026-03-03T21:30:00Z"))) == "mqtt phone");
  CHECK(publisher.after_quiet({evening.alert}, utc("2026-03-04T06:00:01Z")).empty());
}

TEST_CASE(
    "a daemon that was down at the end of the night tells it when it is back; one that was not, does not") {
  const auto news = raised(AlertRule::piece_ready, AlertLevel::news, "2026-03-03T02:00:00Z");
  auto was_down = shop(true);
  was_down.seen_to(utc("2026-03-03T04:00:00Z"));
  CHECK(channels(was_down.after_quiet({news.alert}, utc("2026-03-03T09:00:00Z"))) == "phone");
  auto was_up = shop(true);
  was_up.seen_to(utc("2026-03-03T08:59:00Z"));
  CHECK(was_up.after_quiet({news.alert}, utc("2026-03-03T09:00:00Z")).empty());
  // A row that a crash had kept back is told at once: the night is over.
  CHECK(channels(was_up.alerts({news}, utc("2026-03-03T09:00:00Z"))) == "mqtt phone");
}

TEST_CASE("a vehicle's message is sent when it changes, and taken off MQTT when it has left") {
  auto publisher = shop(false);
  auto two = van(2), three = van(3);
  CHECK(of_vehicles(publisher.vehicles({two, three})) == "vehicle/2 told, vehicle/3 told");
  CHECK(publisher.vehicles({two, three}).empty());
  three.bay = "back";
  CHECK(of_vehicles(publisher.vehicles({two, three})) == "vehicle/3 told");
  two.released = utc("2026-03-02T17:00:00Z");
  CHECK(of_vehicles(publisher.vehicles({two, three})) == "vehicle/2 empty");
  CHECK(publisher.vehicles({three}).empty());  // a day later it is on the board no more
}

TEST_CASE("a daemon that ended right after a release takes its vehicle off MQTT when it is back") {
  auto publisher = shop(false);
  auto gone = van(2);
  gone.released = utc("2026-03-02T17:00:00Z");
  CHECK(of_vehicles(publisher.vehicles({gone})) == "vehicle/2 empty");
  CHECK(publisher.vehicles({gone}).empty());
}

TEST_CASE("an arrival that is taken back is taken off MQTT; while rows wait to be taken nothing is sent") {
  support::CoreShop shop(support::small_shop());
  shop.ticks(monday);
  VehicleIn in;
  in.reference = "grey van";
  in.bay = "front";
  const auto vehicle = shop.does(monday + minutes{1}, in);
  REQUIRE(vehicle > 0);
  const auto published = [&](Time t) {
    const auto before = shop.effects().size();
    shop.core().publish(t);
    return shop.effects().size() == before ? "" : of_vehicles(shop.effects().back().outgoing);
  };
  const auto topic = "vehicle/" + std::to_string(vehicle);
  CHECK(published(monday + minutes{2}) == topic + " told");
  // With the row itself: a daemon that ends before it publishes again has it in the outbox.
  const auto before = shop.effects().size();
  const auto row = shop.does(monday + minutes{3}, Superseded{vehicle});
  REQUIRE(row > 0);
  std::vector<Outgoing> sent;
  for (auto i = before; i < shop.effects().size(); ++i) {
    const auto& outgoing = shop.effects()[i].outgoing;
    CHECK((outgoing.empty() || shop.effects()[i].applied == row));
    sent.insert(sent.end(), outgoing.begin(), outgoing.end());
  }
  CHECK(of_vehicles(sent) == topic + " empty");
  CHECK(published(monday + minutes{4}).empty());

  REQUIRE(shop.does(monday + minutes{6}, in) > 0);
  shop.core().fall_behind();
  CHECK(published(monday + minutes{7}).empty());
}

TEST_CASE("each channel speaks its own language and scale; MQTT the shop's, and the facts beside it") {
  const auto cold = raised(AlertRule::bay_cold, AlertLevel::urgent, "2026-03-02T12:00:00Z");
  const auto sent = shop(false, {Language::german, TemperatureScale::fahrenheit})
                        .alerts({cold}, utc("2026-03-02T12:00:00Z"));
  REQUIRE(channels(sent) == "mqtt phone siren");
  const auto english = "front is at 10 °C and has been below 12 °C for 10 min.";
  const auto german = "front hat 50 °F und liegt seit 10 min unter 53,6 °F.";
  CHECK(sent[0].payload.find(english) != std::string::npos);
  CHECK(sent[0].payload.find(R"({"name":"air","measure":"C","number":10})") != std::string::npos);
  CHECK(sent[1].topic == german);
  CHECK(sent[1].payload.find(german) != std::string::npos);
  CHECK(sent[1].payload.find(R"({"name":"air","measure":"C","number":10})") != std::string::npos);
  CHECK(sent[2].topic == english);
}

}  // namespace dryclock::app
