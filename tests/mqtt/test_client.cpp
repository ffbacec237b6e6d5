// Against a real broker with the settings that are shipped.
#include "mqtt/client.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <atomic>
#include <thread>

#include "inbox.hpp"
#include "support/eventually.hpp"
#include "support/free_port.hpp"
#include "support/listener.hpp"
#include "support/mosquitto.hpp"
#include "support/publisher.hpp"

namespace dryclock::mqtt {
namespace {

using test::eventually;

constexpr Millis cap{5'000};

Options options_for(const test::Mosquitto& broker) {
  Options options;
  options.port = broker.port();
  return options;
}

void connect(Client& client) {
  REQUIRE(client.start().has_value());
  REQUIRE(eventually([&] { return client.connected(); }));
}

// Connected is not yet subscribed: asks the broker until its own message comes through.
void wait_until_subscribed(test::Publisher& sensor, const Inbox& inbox) {
  REQUIRE(eventually([&] {
    sensor.publish("bay/probe", "probe");
    return inbox.has("probe");
  }));
}

TEST_CASE("a message arrives as it was sent") {
  const test::Mosquitto broker;
  test::Publisher sensor(broker.port());
  sensor.publish("bay/kept", "20.5", 1, true);
  Inbox inbox;
  Client client(options_for(broker), {"bay/+"}, inbox.hooks());
  connect(client);
  wait_until_subscribed(sensor, inbox);
  const std::string bytes("\0\xff{", 3);
  sensor.publish("bay/front", bytes, 1);
  sensor.publish("bay/back", "19", 0);
  sensor.publish("yard/front", "not asked for");
  REQUIRE(eventually([&] { return inbox.has(bytes) && inbox.has("19") && inbox.has("20.5"); }));
  for (const auto& message : inbox.messages()) {
    CHECK(message.retained == (message.topic == "bay/kept"));
    CHECK_FALSE(message.cut);
    if (message.payload == bytes) {
      CHECK(message.topic == "bay/front");
      CHECK(message.qos == 1);
      CHECK(message.received_at == from_unix_ms(1'772'366'400'000));
    }
  }
  CHECK_FALSE(inbox.has("not asked for"));
}

TEST_CASE("a search hears every topic, and what is subscribed to is kept once all the same") {
  const test::Mosquitto broker;
  test::Publisher sensor(broker.port());
  sensor.publish("loft/kept", "retained", 1, true);
  Inbox inbox, found;
  auto hooks = inbox.hooks();
  hooks.heard = [&](const RawMessage& message) { (void)found.take(message); };
  Client client(options_for(broker), {"bay/#"}, hooks);
  connect(client);
  wait_until_subscribed(sensor, inbox);
  sensor.publish("loft/air", "before");
  REQUIRE(client.search(true).has_value());
  REQUIRE(eventually([&] {
    sensor.publish("loft/air", "ping");
    return found.has("ping");
  }));
  CHECK(eventually([&] { return found.has("retained"); }));
  sensor.publish("bay/front", "own", 1);
  sensor.publish("bay/front", "own, QoS 0", 0);
  sensor.publish("loft/air", "other", 1);
  REQUIRE(
      eventually([&] { return found.has("other") && found.has("own, QoS 0") && inbox.has("own, QoS 0"); }));
  const auto kept = inbox.messages();
  for (const auto* payload : {"own", "own, QoS 0"}) {
    CHECK(std::ranges::count(kept, payload, &RawMessage::payload) == 1);
  }
  CHECK(std::ranges::count(kept, "bay/front", &RawMessage::topic) == 2);
  CHECK_FALSE(inbox.has("other"));
  CHECK_FALSE(inbox.has("retained"));
  CHECK_FALSE(found.has("before"));

  REQUIRE(client.search(false).has_value());
  wait_until_subscribed(sensor, inbox);
  REQUIRE(eventually([&] {  // the broker has taken the end of it
    const auto before = found.count();
    sensor.publish("loft/air", "after");
    std::this_thread::sleep_for(std::chrono::milliseconds{50});
    return found.count() == before;
  }));
  sensor.publish("bay/front", "later");
  CHECK(eventually([&] { return inbox.has("later"); }));
}

TEST_CASE("topics come and go while it is connected") {
  test::Mosquitto broker;
  Inbox inbox;
  Client client(options_for(broker), {"bay/#"}, inbox.hooks());
  connect(client);
  {
    test::Publisher sensor(broker.port());
    wait_until_subscribed(sensor, inbox);
    client.listen_to({"bay/#", "loft/+"});
    REQUIRE(eventually([&] {
      sensor.publish("loft/air", "1");
      return inbox.has("1");
    }));
    client.listen_to({"bay/#"});
    REQUIRE(eventually([&] {
      const auto before = inbox.count();
      sensor.publish("loft/air", "2");
      std::this_thread::sleep_for(std::chrono::milliseconds{50});
      return inbox.count() == before;
    }));
    sensor.publish("bay/front", "3");
    CHECK(eventually([&] { return inbox.has("3"); }));
  }
}

TEST_CASE("what comes while the client is away is kept for it, QoS 0 too") {
  const test::Mosquitto broker;
  test::Publisher sensor(broker.port());
  {
    Inbox inbox;
    Client client(options_for(broker), {"bay/#"}, inbox.hooks());
    connect(client);
    wait_until_subscribed(sensor, inbox);
  }
  for (int i = 0; i < 100; ++i) {
    sensor.publish("bay/front", std::to_string(i), i % 2);
  }
  Inbox inbox;
  Client client(options_for(broker), {"bay/#"}, inbox.hooks());
  connect(client);
  CHECK(eventually([&] { return inbox.count() >= 100; }));
  for (int i = 0; i < 100; ++i) {
    CHECK(inbox.has(std::to_string(i)));
  }
}

TEST_CASE("retained messages come with a new subscription, not with each connection") {
  test::Mosquitto broker;
  test::Publisher(broker.port()).publish("bay/kept", "old", 1, true);
  Inbox inbox;
  Client client(options_for(broker), {"bay/#"}, inbox.hooks());
  connect(client);
  REQUIRE(eventually([&] { return inbox.has("old"); }));
  broker.stop();
  REQUIRE(eventually([&] { return !client.connected(); }));
  broker.start();
  REQUIRE(eventually([&] { return client.connected(); }, std::chrono::seconds{30}));
  test::Publisher sensor(broker.port());
  sensor.publish("bay/front", "new");
  REQUIRE(eventually([&] { return inbox.has("new"); }));
  CHECK(inbox.count() == 2);
}

TEST_CASE("a broker that ends, killed or stopped, is found again, and the subscription with it") {
  test::Mosquitto broker;
  Inbox inbox;
  std::atomic<int> connections = 0;
  std::atomic<int> losses = 0;
  auto hooks = inbox.hooks();
  hooks.connection_changed = [&](bool connected) { ++(connected ? connections : losses); };
  Client client(options_for(broker), {"bay/#"}, hooks);
  connect(client);
  int round = 0;
  for (const bool killed : {true, false}) {
    CAPTURE(killed);
    killed ? broker.kill() : broker.stop();
    REQUIRE(eventually([&] { return !client.connected(); }));
    broker.start();
    REQUIRE(eventually([&] { return client.connected(); }, std::chrono::seconds{60}));
    ++round;
    CHECK(connections == round + 1);
    CHECK(losses == round);
    test::Publisher sensor(broker.port());
    const auto payload = "after " + std::to_string(round);
    REQUIRE(eventually([&] {
      sensor.publish("bay/front", payload);
      return inbox.has(payload);
    }));
  }
}

TEST_CASE("a broker that is not there yet is waited for") {
  test::Mosquitto broker;
  broker.stop();
  Inbox inbox;
  Client client(options_for(broker), {"bay/#"}, inbox.hooks());
  CHECK(client.start().has_value());
  std::this_thread::sleep_for(std::chrono::milliseconds{300});
  CHECK_FALSE(client.connected());
  CHECK_FALSE(client.publish({.channel = "mqtt", .topic = "a", .payload = "b"}, cap).has_value());
  broker.start();
  CHECK(eventually([&] { return client.connected(); }, std::chrono::seconds{30}));
}

TEST_CASE("online, offline, and offline by the broker's hand when the process is killed") {
  const test::Mosquitto broker;
  const test::Listener listener(broker.port(), "shop/status");
  auto options = options_for(broker);
  options.base = "shop";
  Inbox inbox;
  {
    Client client(options, {"bay/#"}, inbox.hooks());
    connect(client);
    REQUIRE(client.announce(cap).has_value());
    client.stop(cap);
  }
  REQUIRE(eventually([&] { return listener.lines().size() == 2; }));
  CHECK(listener.lines() == std::vector<std::string>{"shop/status online", "shop/status offline"});
}

TEST_CASE("what is published is acknowledged, below the base, and does not come back") {
  const test::Mosquitto broker;
  const test::Listener listener(broker.port(), "dryclock/#");
  Inbox inbox;
  Client client(options_for(broker), {"#"}, inbox.hooks());
  connect(client);
  test::Publisher sensor(broker.port());
  wait_until_subscribed(sensor, inbox);
  CHECK(client.publish({.channel = "mqtt", .topic = "vehicle/7", .payload = "{}", .retained = true}, cap)
            .has_value());
  CHECK(client.publish({.channel = "mqtt", .topic = "vehicle/7", .payload = "", .retained = true}, cap)
            .has_value());
  REQUIRE(eventually([&] { return listener.lines().size() == 2; }));
  CHECK(listener.lines() == std::vector<std::string>{"dryclock/vehicle/7 {}", "dryclock/vehicle/7 (null)"});
  sensor.publish("bay/last", "last");
  REQUIRE(eventually([&] { return inbox.has("last"); }));
  CHECK_FALSE(inbox.has("{}"));
}

TEST_CASE("a huge payload is cut and says so; a monstrous one does not come at all") {
  const test::Mosquitto broker({"max_packet_size 20000000"});
  test::Publisher sensor(broker.port());
  Inbox inbox;
  Client client(options_for(broker), {"bay/#"}, inbox.hooks());
  connect(client);
  wait_until_subscribed(sensor, inbox);
  sensor.publish("bay/most", std::string(payload_limit, 'a'));
  sensor.publish("bay/huge", std::string(payload_limit + 1, 'b'));
  sensor.publish("bay/monstrous", std::string(packet_limit + 1, 'c'));
  sensor.publish("bay/last", "last");
  REQUIRE(eventually([&] { return inbox.has("last"); }));
  for (const auto& message : inbox.messages()) {
    CHECK(message.topic != "bay/monstrous");
    CHECK(message.cut == (message.topic == "bay/huge"));
    CHECK(message.payload.size() <= payload_limit);
  }
  CHECK(inbox.has(std::string(payload_limit, 'a')));
  CHECK(inbox.has(std::string(payload_limit, 'b')));
}

TEST_CASE("a sink that fails gets the same message again before any other") {
  const test::Mosquitto broker;
  test::Publisher sensor(broker.port());
  Inbox inbox;
  std::atomic<int> refusals = 0;
  auto hooks = inbox.hooks();
  hooks.sink = [&](const RawMessage& message) {
    if (message.payload == "1" && refusals < 3) {
      ++refusals;
      return false;
    }
    return inbox.take(message);
  };
  Client client(options_for(broker), {"bay/#"}, hooks);
  connect(client);
  wait_until_subscribed(sensor, inbox);
  const auto before = inbox.count();
  sensor.publish("bay/front", "1");
  sensor.publish("bay/front", "2");
  REQUIRE(eventually([&] { return inbox.has("2"); }));
  CHECK(refusals == 3);
  const auto messages = inbox.messages();
  REQUIRE(messages.size() >= before + 2);
  CHECK(messages[messages.size() - 2].payload == "1");
  CHECK(messages.back().payload == "2");
}

TEST_CASE("the broker's count of dropped messages can be followed") {
  const test::Mosquitto broker;
  Inbox inbox;
  Client client(options_for(broker), {dropped_topic}, inbox.hooks());
  connect(client);
  REQUIRE(eventually([&] { return inbox.count() > 0; }));
  CHECK(inbox.messages()[0].topic == dropped_topic);
  CHECK(inbox.messages()[0].payload == "0");
}

TEST_CASE("a password file that cannot be read is a problem at start") {
  Inbox inbox;
  Options options;
  options.user = "dryclock";
  options.password_file = "/no/such/file";
  Client client(options, {"bay/#"}, inbox.hooks());
  const auto started = client.start();
  REQUIRE_FALSE(started.has_value());
  CHECK(started.error().where == "/no/such/file");
}

}  // namespace
}  // namespace dryclock::mqtt
