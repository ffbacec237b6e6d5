#include <doctest/doctest.h>
#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>

#include "http/asker.hpp"
#include "models/lanes.hpp"
#include "support/mosquitto.hpp"
#include "support/publisher.hpp"

namespace dryclock::http {

namespace json = boost::json;
using std::chrono::hours;

TEST_CASE("a search for sensors is started by POST and looked at by GET") {
  constexpr auto search = "/api/v1/sensors/search";
  const test::Mosquitto broker;
  test::Publisher device{broker.port()};
  device.publish("loft/air", R"({"t":18.4,"h":0.55})", 1, true);
  device.publish("loft/status", "online", 1, true);
  device.publish("sensors/front", R"({"t":16.5,"h":61})", 1, true);
  Asker ask{broker.port()};
  CHECK(ask.read(search).at("running").as_bool() == false);
  CHECK(ask("POST", search, R"({"seconds":5})").status == 202);
  CHECK(ask.read(search).at("running").as_bool());
  const auto topics = [&] { return ask.read(search).at("topics").as_array(); };
  ask.shop->turns_until([&] { return topics().size() >= 3; });
  CHECK(named(topics(), "topic", "loft/status").at("kind").as_string() == "availability");
  CHECK(named(topics(), "topic", "sensors/front").at("kind").as_string() == "taken");
  const auto found = ask.read(search).at("sensors").at(0);
  const auto humidity = named(found.at("reads"), "quantity", "relative-humidity");
  CHECK(humidity.at("topic").as_string() == "loft/air");
  CHECK(humidity.at("unit").as_string() == "fraction");
  CHECK(humidity.at("sample").as_string() == "0.55");
  CHECK(ask("POST", search).status == 202);  // a minute where nobody says

  for (const auto* wrong :
       {R"({"seconds":4})", R"({"seconds":601})", R"({"seconds":"5"})", R"({"for":5})", "[]", "x"}) {
    CAPTURE(wrong);
    CHECK(ask("POST", search, wrong).status == 400);
  }
  CHECK(ask("DELETE", search).status == 405);
  CHECK(header(ask("DELETE", search), "Allow") == "GET, HEAD, POST");
}

TEST_CASE("sensors are told with their readings, and a result as the event that keeps it") {
  Asker ask;
  const auto sensors = ask.read("/api/v1/sensors");
  const auto front = sensors.at("sensors").at(0);
  CHECK(front.at("sensor").as_string() == "front-wall");
  CHECK(front.at("from").as_string() == "file");
  CHECK(named(front.at("reads"), "quantity", "air-temperature").at("value") == 17.2);  // as it was sent last
  CHECK(named(front.at("reads"), "quantity", "relative-humidity").at("counts").at("spike") == 2);
  CHECK(front.at("checking").is_null());
  CHECK(front.at("last_check").is_null());
  // OIML R 121:1996, Table 1, sodium chloride at 20 C: 75.5 %RH.
  CHECK(named(sensors.at("salts"), "salt", "NaCl").at("expected_pct").to_number<double>() ==
        doctest::Approx(75.5).epsilon(1e-9));
  CHECK(ask("POST", "/api/v1/sensors").status == 405);
  CHECK(ask("GET", "/api/v1/sensors?bay=front").status == 400);
  CHECK(ask("GET", "/api/v1/sensors/front").status == 404);

  CHECK(ask.tell(R"({"what":"sensor-check-started","sensor":"front-wall","salt":"NaCl"})").status == 201);
  ask.shop->airs_until(ask.shop->now() + hours{8}, 20.0, 80.5);
  const auto result = ask.read("/api/v1/sensors").at("sensors").at(0).at("checking").at("result");
  CHECK(result.at("offset").to_number<double>() == doctest::Approx(75.5 - 80.5).epsilon(0.01));
  CHECK(ask.tell(json::serialize(result)).status == 201);
  const auto after = ask.read("/api/v1/sensors").at("sensors").at(0);
  CHECK(after.at("checking").is_null());
  CHECK(after.at("last_check").at("result").at("verdict").as_string() == "off");  // 5 %RH, and 2 are allowed
}

TEST_CASE("what the shop has shown is told, and what is learnt anew begins with nothing") {
  Asker ask;
  const auto before = ask.read("/api/v1/learned");
  CHECK(before.at("since").is_null());
  CHECK(before.at("water").at("low").to_number<double>() < before.at("water").at("high").to_number<double>());
  CHECK(ask("POST", "/api/v1/learned").status == 405);
  const auto anew = [&](Time since) {
    return ask.tell(R"({"what":"learn-anew","since":")" + to_rfc3339(since) + "\"}").status;
  };
  CHECK(anew(ask.shop->now() + hours{1}) == 409);
  CHECK(anew(ask.shop->now()) == 201);
  const auto after = ask.read("/api/v1/learned");
  CHECK(after.at("since").is_string());
  CHECK(after.at("looks").to_number<int>() == 0);
  CHECK(after.at("films").as_array().empty());
}

TEST_CASE("a plate is looked at, and its row keeps what the film had drunk, whatever was sent") {
  Asker ask;
  ask.shop->airs_until(ask.shop->now() + hours{1}, 21.0, 50.0);
  const auto laid = ask.tell(R"({"what":"plate-laid","film":"baseline","lot":"L7","bay":"front"})");
  REQUIRE(laid.status == 201);
  const auto number = json::parse(laid.body).at("seq").as_int64();
  auto plate = ask.read("/api/v1/plates").at("plates").at(0);
  CHECK(plate.at("plate").as_int64() == number);
  CHECK(plate.at("strips") == json::parse(R"(["edge","recess"])"));
  CHECK(plate.at("over").as_bool() == false);
  CHECK(ask("POST", "/api/v1/plates").status == 405);
  CHECK(ask("GET", "/api/v1/plates?bay=front").status == 400);
  ask.shop->airs_until(ask.shop->now() + hours{4}, 21.0, 50.0);
  const auto seen = ask.tell(fmt::format(
      R"({{"what":"plate-seen","plate":{},"zone":"edge","sign":"half-wet","course":{{"drunk_g_m2":[9],"front_mm2":9}}}})",
      number));
  REQUIRE(seen.status == 201);
  const auto course = json::parse(seen.body).at("event").at("course");
  REQUIRE(course.at("drunk_g_m2").as_array().size() == models::members);
  CHECK(course.at("drunk_g_m2").at(0).to_number<double>() >
        course.at("drunk_g_m2").at(7).to_number<double>());
  plate = ask.read("/api/v1/plates").at("plates").at(0);
  CHECK(plate.at("seen").at(0).at("sign").as_string() == "half-wet");
  CHECK(plate.at("zones").at(0).at("tenth_chance").to_number<double>() <= 1.0);
  CHECK(ask.tell(R"({"what":"plate-seen","plate":1,"zone":"edge","sign":"half-wet"})").status == 409);
  CHECK(ask.tell(fmt::format(R"({{"what":"plate-seen","plate":{},"zone":"edge","sign":"clear"}})", number))
            .status == 400);
}

TEST_CASE("a coupon's result is told, and what was measured stands in the catalogue") {
  Asker ask;
  CHECK(ask.read("/api/v1/catalogue").at("measured").as_array().empty());
  ask.shop->airs_until(ask.shop->now() + hours{1}, 21.0, 50.0);
  const auto laid = ask.tell(
      R"({"what":"coupon-laid","film":"baseline","lot":"L7","bay":"front","area_m2":0.09,"water_grams":0.9})");
  CHECK(laid.status == 201);
  CHECK(ask.read("/api/v1/coupons").at("coupons").at(0).at("result").is_null());
  CHECK(ask("POST", "/api/v1/coupons").status == 405);
  // As in tests/nights/test_coupon_nights.cpp: 0.09 m2, 1243.7 Pa at 21 C and 50 %RH, 8e9 m2 s Pa/kg.
  const double grams_per_hour = 0.09 * 1243.7 / 8e9 * 3600.0 * 1000.0;
  for (int hour = 0; hour <= 12; ++hour) {
    CHECK(ask.tell(fmt::format(R"({{"what":"coupon-weighed","coupon":{},"grams":{}}})",
                               json::parse(laid.body).at("seq").as_int64(), 400.0 - grams_per_hour * hour))
              .status == 201);
    ask.shop->airs_until(ask.shop->now() + hours{1}, 21.0, 50.0);
  }
  const auto result = ask.read("/api/v1/coupons").at("coupons").at(0).at("result");
  CHECK(ask.tell(json::serialize(result)).status == 201);
  const auto measured = ask.read("/api/v1/catalogue").at("measured").at(0);
  CHECK(measured.at("film").as_string() == "baseline");
  CHECK(measured.at("lot").as_string() == "L7");
  CHECK(measured.at("resistance").to_number<double>() == doctest::Approx(8e9).epsilon(0.02));
}

}  // namespace dryclock::http
