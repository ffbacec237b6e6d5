#include "engine/air_hours.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "engine/minutes.hpp"
#include "engine/told.hpp"
#include "models/humid_air.hpp"

using namespace dryclock;
using engine::AirHours;
using engine::BayAir;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using test::t0;

namespace {

constexpr Millis step = minutes{5};
constexpr Millis three_days = hours{72};

double unrest_c(Time at) {
  return 18.0 + 2.0 * std::sin(seconds_between(t0, at) / 9'000.0) +
         0.3 * std::sin(seconds_between(t0, at) / 800.0);
}

// One bay that is read every ten minutes, and what it tells of its hours.
struct Bay {
  BayAir air{"front", minutes{30}};
  AirHours hours;
  std::vector<AirHour> news;

  void reads(Time at, double celsius, double percent) {
    for (const auto& [quantity, value] :
         {std::pair{Quantity::air_temperature, celsius}, std::pair{Quantity::relative_humidity, percent}}) {
      Reading reading;
      reading.sensor = "probe";
      reading.bay = "front";
      reading.quantity = quantity;
      reading.at = at;
      reading.value = reading.raw = value;
      air.add(reading);
    }
    std::vector<GapRow> gaps;
    air.close_minutes(at, gaps);
    hours.follow(air, "front", news);
  }
  void lives(Time from, Time to) {
    for (Time at = from; at <= to; at += minutes{10}) {
      reads(at, unrest_c(at), 50.0 + unrest_c(at + std::chrono::hours{7}) - 18.0);
    }
  }
  [[nodiscard]] std::vector<models::WeightedCourse> ahead(Time now) const {
    return hours.ahead(air, now, three_days, step);
  }
};

bool same(const std::vector<models::WeightedCourse>& one, const std::vector<models::WeightedCourse>& other) {
  const auto same_air = [](const models::Surroundings& a, const models::Surroundings& b) {
    return a.air.value() == b.air.value() && a.humidity.value() == b.humidity.value();
  };
  return std::ranges::equal(one, other, [&](const auto& a, const auto& b) {
    return a.weight == b.weight && std::ranges::equal(a.air, b.air, same_air);
  });
}

}  // namespace

TEST_CASE("an hour of the clock is the mean of its minutes, and told once") {
  Bay bay;
  for (int i = 0; i <= 12; ++i) {  // 0.1 K a minute
    bay.reads(t0 + minutes{10 * i}, 20.0 + i, 50.0);
  }
  REQUIRE(bay.news.size() == 2);
  CHECK(bay.news[0].bay == "front");
  CHECK(bay.news[0].until == t0 + hours{1});
  CHECK(bay.news[0].mean.temperature == doctest::Approx(20.0 + 0.1 * 30.5));  // of minutes 1 to 60
  CHECK(bay.news[1].until == t0 + hours{2});
  double vapour = 0.0;
  for (int m = 1; m <= 60; ++m) {
    vapour += models::vapour_pressure(models::Celsius{20.0 + 0.1 * m}, models::Humidity{0.5}).value() / 60.0;
  }
  CHECK(bay.news[0].mean.vapour == doctest::Approx(vapour));
}

TEST_CASE("the hour in which a bay is first heard of is not whole") {
  Bay bay;
  bay.lives(t0 + minutes{20}, t0 + hours{2} + minutes{10});
  REQUIRE(bay.news.size() == 1);
  CHECK(bay.news[0].until == t0 + hours{2});
}

// Silent from 22:29 to 01:29: of the hour until 23:00 29 minutes are known, of that until 02:00 32.
TEST_CASE("what was bridged is not learnt, and an hour that was measured for less than half is none") {
  Bay bay;
  bay.lives(t0, t0 + hours{2} + minutes{20});
  bay.reads(t0 + hours{2} + minutes{29}, 18.0, 50.0);
  bay.lives(t0 + hours{5} + minutes{29}, t0 + hours{7} + minutes{9});
  std::vector<Time> until;
  for (const auto& hour : bay.news) {
    until.push_back(hour.until);
  }
  CHECK(bool{until == std::vector{t0 + hours{1}, t0 + hours{2}, t0 + hours{6}, t0 + hours{7}}});
}

// The mean of the last hour is the air of half an hour ago.
TEST_CASE("what is foretold begins with the newest sixty minutes, half an hour ago") {
  Bay bay;
  for (int i = 0; i <= 14; ++i) {  // 0.1 K a minute
    bay.reads(t0 + minutes{10 * i}, 20.0 + i, 50.0);
  }
  REQUIRE(bay.news.size() == 2);
  models::AirOutlook outlook;
  outlook.see(bay.news[0].mean);
  outlook.see(bay.news[1].mean);
  models::AirMean newest{20.0 + 0.1 * 110.5, 0.0};  // of minutes 81 to 140
  for (int m = 81; m <= 140; ++m) {
    newest.vapour +=
        models::vapour_pressure(models::Celsius{20.0 + 0.1 * m}, models::Humidity{0.5}).value() / 60.0;
  }
  const auto forecast = outlook.glance(newest, 20.0 / 60.0, 80);
  const auto expected = models::courses(forecast, 0.5, models::Seconds{300.0}, 72 * 12 + 1);
  const auto told = bay.ahead(t0 + minutes{140});
  REQUIRE(told.size() == expected.size());
  for (std::size_t course = 0; course < told.size(); ++course) {
    REQUIRE(told[course].air.size() == expected[course].air.size());
    for (const std::size_t entry : {0U, 7U, 288U, 864U}) {
      CHECK(told[course].air[entry].air.value() ==
            doctest::Approx(expected[course].air[entry].air.value()).epsilon(1e-9));
      CHECK(told[course].air[entry].humidity.value() ==
            doctest::Approx(expected[course].air[entry].humidity.value()).epsilon(1e-9));
    }
  }
}

TEST_CASE("a hole of years costs no walk through its hours, and the outlook begins anew behind it") {
  Bay bay;
  bay.lives(t0, t0 + hours{3});
  const Time later = t0 + days{40 * 365};
  bay.lives(later, later + hours{2});
  CHECK(bay.news.size() == 5);
  Bay fresh;
  fresh.lives(later, later + hours{2});
  CHECK(same(bay.ahead(later + hours{2}), fresh.ahead(later + hours{2})));
}

TEST_CASE("what is foretold is the same to the bit from hours that are told and from a day of minutes") {
  const Time end = t0 + days{4} + minutes{30};
  Bay lived;
  lived.lives(t0, t0 + days{1});
  lived.lives(t0 + days{1} + hours{5}, end);  // silent for five hours
  Bay started;
  for (const auto& hour : lived.news) {
    started.hours.know(hour);
  }
  const Time from = end - hours{26} - minutes{20};
  started.lives(from, end);
  CHECK(started.news.empty());  // all are known
  REQUIRE(lived.ahead(end).size() == 11);
  CHECK(same(started.ahead(end), lived.ahead(end)));
  Bay forgetful;
  forgetful.lives(from, end);
  CHECK_FALSE(same(forgetful.ahead(end), lived.ahead(end)));
}

TEST_CASE("how often it is asked changes nothing, also over midnight and through silence") {
  Bay often, once;
  const auto asks = [&] { static_cast<void>(often.ahead(*often.air.frontier())); };
  for (Time at = t0; at <= t0 + days{2}; at += minutes{10}) {
    if (at > t0 + hours{9} && at < t0 + hours{14}) continue;
    often.lives(at, at);
    once.lives(at, at);
    asks();
  }
  CHECK(same(often.ahead(t0 + days{2}), once.ahead(t0 + days{2})));
}

TEST_CASE("sixty days count, and none before") {
  const auto with_an_hour_of = [](std::optional<Time> until) {
    Bay bay;
    if (until) {
      bay.hours.know({"front", *until, {25.0, 1500.0}});
    }
    bay.lives(t0, t0 + hours{3});
    return bay.ahead(t0 + hours{3});
  };
  const Time today = std::chrono::floor<days>(t0);
  const auto alone = with_an_hour_of({});
  CHECK(same(with_an_hour_of(today - days{60}), alone));
  CHECK_FALSE(same(with_an_hour_of(today - days{60} + hours{1}), alone));
}

TEST_CASE("while sensors are silent it goes on with what was foretold") {
  Bay bay;
  const Time last = t0 + days{2};
  bay.lives(t0, last);
  const auto then = bay.ahead(last), later = bay.ahead(last + hours{5});
  REQUIRE(later.size() == then.size());
  for (std::size_t course = 0; course < then.size(); ++course) {
    REQUIRE(later[course].air.size() == 72 * 12 + 1);
    for (const std::size_t entry : {0U, 120U, 800U}) {
      CHECK(later[course].air[entry].air.value() ==
            doctest::Approx(then[course].air[entry + 60].air.value()).epsilon(1e-12));
      CHECK(later[course].air[entry].humidity.value() ==
            doctest::Approx(then[course].air[entry + 60].humidity.value()).epsilon(1e-12));
    }
  }
  for (const auto& course : bay.ahead(last + days{30})) {  // beyond any forecast
    for (const auto& air : course.air) {
      CHECK(std::isfinite(air.air.value() + air.humidity.value()));
    }
  }
}

TEST_CASE("nothing is foretold where nobody measures") {
  CHECK(Bay{}.ahead(t0).empty());
}

// models/air_memory.hpp: 3 K and a quarter of the vapour a day later, or 1.2 K and 15 %.
TEST_CASE("of a bay that is heated less is open at first") {
  const auto apart = [](bool heated) {
    Bay bay;
    bay.hours.heated(heated);
    bay.reads(t0, 20.0, 50.0);
    double least = 100.0, most = -100.0;
    for (const auto& course : bay.ahead(t0)) {
      least = std::min(least, course.air[24 * 12].air.value());
      most = std::max(most, course.air[24 * 12].air.value());
    }
    return most - least;
  };
  CHECK(apart(true) < 0.6 * apart(false));
  CHECK(apart(true) > 0.2 * apart(false));
}
