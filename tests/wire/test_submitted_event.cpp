#include <doctest/doctest.h>
#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <random>

#include "wire/event_json.hpp"

namespace dryclock::wire {
namespace {

const std::string arrival = R"({"what":"vehicle-in","reference":"a","bay":"front")";

Event submitted(const std::string& json) {
  const auto read = read_submitted(json, {});
  REQUIRE_MESSAGE(read.has_value(), json << ": " << (read ? "" : to_string(read.error())));
  return read->event;
}

TEST_CASE("plate and customer are taken off an arrival, and off nothing else") {
  const auto read = read_submitted(arrival + R"(,"plate":"DEMO 1","customer":"N. N."})", {}).value();
  CHECK(read.plate == "DEMO 1");
  CHECK(read.customer == "N. N.");
  CHECK(std::get<VehicleIn>(read.event.detail).reference == "a");
  CHECK(to_json(read.event).find("DEMO") == std::string::npos);
  CHECK(to_json(read.event).find("N. N.") == std::string::npos);
  // On another kind, or in a row, it is refused as the field that it has not.
  CHECK(read_submitted(R"({"what":"note","vehicle":1,"plate":"DEMO 1"})", {}).error().where == "/plate");
  CHECK(parse_event(arrival + R"(,"plate":"DEMO 1"})", {}).error().where == "/plate");
}

TEST_CASE("what cannot be kept is refused without repeating it") {
  const auto number = read_submitted(arrival + R"(,"plate":4711})", {});
  REQUIRE_FALSE(number.has_value());
  CHECK(to_string(number.error()).find("4711") == std::string::npos);
  CHECK(number.error().where == "/plate");
  CHECK(read_submitted(arrival + R"(,"customer":")" + std::string(201, 'x') + "\"}", {}).error().where ==
        "/customer");
  CHECK(read_submitted(arrival + R"(,"customer":")" + std::string(200, 'x') + "\"}", {}).has_value());
  CHECK(read_submitted(arrival + R"(,"plate":null})", {}).value().plate.empty());
  // A commitment that a sender brings would commit the shop to what nobody told it.
  CHECK(read_submitted(arrival + R"(,"plate_sha256":"00"})", {}).error().where == "/plate_sha256");
  CHECK(read_submitted(arrival + R"(,"customer_sha256":"00"})", {}).error().where == "/customer_sha256");
}

TEST_CASE("what the client adds is what is taken off again") {
  CHECK(read_submitted(with_personal(arrival + "}", "", ""), {}).value().plate.empty());
  const auto read = read_submitted(with_personal(arrival + "}", "Ä \"1\"", "B\n"), {}).value();
  CHECK(read.plate == "Ä \"1\"");
  CHECK(read.customer == "B\n");
}

// IEEE 754: every decimal of at most 15 digits comes back from a double unchanged.
TEST_CASE("a number that is submitted keeps 15 digits") {
  const auto area = [](const std::string& number) {
    return std::get<Lay>(
               submitted(R"({"what":"lay","vehicle":1,"panel":"bonnet","area_m2":)" + number + "}").detail)
        .area_m2;
  };
  CHECK(area("1.25") == 1.25);
  CHECK(area("0.123456789012345") == 0.123456789012345);
  CHECK(area("0.12345678901234567") == 0.123456789012346);
  CHECK(area("9.9e-8") == 0.0);
  CHECK_FALSE(std::signbit(area("-0.0")));
  const auto in = std::get<VehicleIn>(submitted(arrival + R"(,"panel_c":-3.1234567890123456})").detail);
  CHECK(in.panel_c == -3.12345678901235);
}

TEST_CASE("a deed is several events about pieces, each with a key and the deed's name; or one to undo") {
  const auto entered = parse_rfc3339("2026-03-02T08:00:00Z").value();
  const auto deed = read_deed(
      R"({"key":"k","events":[{"what":"edge-wrapped","piece":3},{"what":"lay","vehicle":1,"panel":"sill","side":"left",
          "place":"front half","beside":[{"piece":4,"part":2,"place":"rear-half"}],"at":"2026-03-02T07:00:00Z"}]})",
      entered);
  REQUIRE_MESSAGE(deed.has_value(), to_string(deed.error()));
  REQUIRE(deed->events.size() == 2);
  CHECK(deed->events[0].key == "k/0");
  CHECK(deed->events[1].key == "k/1");
  CHECK(deed->events[1].deed == "k");
  CHECK(deed->events[0].at == entered);
  CHECK(deed->events[1].at == entered - std::chrono::hours{1});
  const auto& lay = std::get<Lay>(deed->events[1].detail);
  CHECK(lay.side == Side::left);
  CHECK(lay.place == "front half");
  CHECK(lay.beside == std::vector<Beside>{{4, 2, "rear-half"}});
  CHECK(read_deed(R"({"key":"k","undo":"j"})", entered)->undo == "j");
  CHECK(read_deed(R"({"key":"k","undo":"j","who":"ab"})", entered)->who == "ab");
  const auto refused = [&](const char* json) { return read_deed(json, entered).error().where; };
  CHECK(refused(R"({"events":[]})") == "/key");
  CHECK(refused(R"({"key":"","undo":"j"})") == "/key");
  CHECK(refused(R"({"key":"k"})") == "/events");
  CHECK(refused(R"({"key":"k","who":"ab","events":[{"what":"trimmed","piece":3}]})") == "/who");
  CHECK(refused(R"({"key":"k","undo":"j","events":[{"what":"trimmed","piece":3}]})") == "/events");
  CHECK(refused(R"({"key":"k","events":[{"what":"trimmed","piece":3},{"what":"note","vehicle":1}]})") ==
        "/events/1/what");
  CHECK(refused(R"({"key":"k","events":[{"what":"trimmed"}]})") == "/events/0/piece");
  CHECK(refused(R"({"key":"k","events":[{"what":"lay","vehicle":1,"panel":"sill","side":"middle"}]})") ==
        "/events/0/side");
}

TEST_CASE("a row keeps its deed, and nobody else names one") {
  auto event = submitted(R"({"what":"trimmed","piece":3})");
  event.seq = 9;
  event.deed = "k";
  CHECK(to_json(event).find(R"("deed":"k")") != std::string::npos);
  CHECK(parse_event(R"({"what":"trimmed","piece":3,"deed":"k"})", {}).error().where == "/deed");
}

// Whatever a sender computes has 16 or 17 digits, and a replay must not see another number.
TEST_CASE("an event that is submitted is the one that its row reads back to") {
  std::mt19937_64 random(1);
  const auto any = [&](double least, double most) {
    return fmt::format("{:.17g}", std::uniform_real_distribution<double>(least, most)(random));
  };
  const auto tiny = [&] {
    return fmt::format("{:.17g}", std::pow(10.0, std::uniform_real_distribution<double>(-12.0, 2.0)(random)));
  };
  for (int i = 0; i < 5'000; ++i) {
    const std::vector<std::string> events{
        fmt::format(
            R"({{"what":"heat-applied","piece":2,"surface_c":{},"minutes":{},"area_m2":{},"tool_w":{}}})",
            any(0.0, 150.0), any(0.0, 240.0), any(0.0, 10.0), any(100.0, 5000.0)),
        fmt::format(R"({{"what":"film-measured","film":"open","resistance":{},"relative_uncertainty":{},)"
                    R"("tail":[{{"spread":{},"break_up_g_m2":{},"likelihood":{}}}]}})",
                    any(1e7, 1e12), any(0.01, 1.0), any(0.01, 2.0), any(0.01, 20.0), any(0.0, 1.0)),
        fmt::format(
            R"({{"what":"sensor-assigned","sensor":"a","bay":"front","reads":[{{"topic":"t","quantity":)"
            R"("air-temperature","unit":"F","slope":{},"offset":-{}}}]}})",
            any(-1000.0, 1000.0), tiny()),
        fmt::format(R"({{"what":"coupon-laid","film":"open","bay":"front","area_m2":{},"water_grams":{}}})",
                    any(1e-4, 4.0), any(1e-3, 1000.0)),
        fmt::format("{},\"panel_c\":{}}}", arrival, any(-40.0, 120.0))};
    for (const auto& json : events) {
      const auto row = to_json(submitted(json));
      CHECK(to_json(parse_event(row, {}).value()) == row);
    }
  }
}

}  // namespace
}  // namespace dryclock::wire
