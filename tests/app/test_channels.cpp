#include "app/channels.hpp"

#include <doctest/doctest.h>

#include "support/said.hpp"
#include "wire/answer_json.hpp"
#include "wording/spoken.hpp"

namespace dryclock::app {
namespace {

const Manner german{Language::german, TemperatureScale::celsius};

// As a channel's row in the outbox has it.
std::string payload(Manner manner) {
  AlertSummary alert;
  alert.id = "bay-cold/front";
  alert.subject = "front";
  alert.raised = parse_rfc3339("2026-03-07T14:20:00Z").value();
  alert.what = {"alerts.bay-cold",
                {say::text("bay", "front"), say::celsius("air", 9.4), say::celsius("limit", 12.0),
                 say::span("for", std::chrono::minutes{10})}};
  alert.advice = {"advice.bay-cold"};
  return wire::to_json(wording::spoken(alert, support::words(manner)));
}

}  // namespace

TEST_CASE("a mail is a letter: what is so, what to do about it, since when") {
  CHECK(letter("subject", payload({}), support::words()) ==
        "front is at 9.4 °C and has been below 12 °C for 10 min.\n\n"
        "Look at the heater and shut the doors. Film under way dries more slowly: check the hand-over "
        "times.\n\n"
        "Raised: Sat 7 Mar 14:20");
  CHECK(letter("subject", payload(german), support::words(german)) ==
        "front hat 9,4 °C und liegt seit 10 min unter 12 °C.\n\n"
        "Nach der Heizung sehen, Tore schließen. Angefangene Stücke trocknen langsamer: Übergabezeiten "
        "prüfen.\n\n"
        "Ausgelöst: Sa. 7. März 14:20");
}

TEST_CASE("what is no alert of ours is sent as its subject says it; an earlier program's words are kept") {
  CHECK(letter("It is so.", "{}", support::words()) == "It is so.");
  const Outgoing old{"mail", "It is so.",
                     R"({"id":"dew/7","rule":"dew","subject":"7","level":"urgent",)"
                     R"("raised":"2026-03-07T14:20:00.000Z","cleared":null,"acknowledged":null,)"
                     R"("text":"It is so, as it was told.","advice":"Wait."})",
                     false};
  CHECK(letter(old.topic, old.payload, support::words()) ==
        "It is so, as it was told.\n\nWait.\n\nRaised: Sat 7 Mar 14:20");
  // What a row tells of its delivery.
  const auto alert = Publisher::alert_in(old);
  REQUIRE(alert.has_value());
  CHECK(alert->rule == AlertRule::dew);
  CHECK(alert->subject == "7");
}

TEST_CASE("a channel is tried in its own words") {
  Config config;
  config.notify.resize(1);
  config.notify[0].name = "mail";
  config.notify[0].manner = german;
  const auto now = parse_rfc3339("2026-03-07T14:20:00Z").value();
  CHECK(test_message(config, "mail", now).topic ==
        "Ein Test der Meldungen von dryclock: Es ist nichts passiert.");
  const auto mqtt = test_message(config, "mqtt", now);
  CHECK(mqtt.topic == "test");
  CHECK(mqtt.payload.find("A test of dryclock's alerts: nothing is wrong.") != std::string::npos);
  const auto alert = wire::read_alert(mqtt.payload);
  REQUIRE(alert.has_value());
  CHECK(alert->id == "channel-test/mqtt");
  CHECK(alert->subject == "mqtt");
  CHECK(
      letter("subject", mqtt.payload, support::words()) ==
      "A test of dryclock's alerts: nothing is wrong.\n\nNothing is to be done.\n\nRaised: Sat 7 Mar 14:20");
}

TEST_CASE("a channel's test is of no rule that an automation may act upon") {
  const auto sent = test_message({}, "mqtt", parse_rfc3339("2026-03-07T14:20:00Z").value());
  CHECK(sent.payload.find(R"("rule":"channel-test")") != std::string::npos);
}

}  // namespace dryclock::app
