#include "engine/bay_air.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "engine/minutes.hpp"
#include "engine/told.hpp"

using namespace dryclock;
using engine::BayAir;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using test::t0;

namespace {

class AirBench {
 public:
  void reads(Time at, Quantity quantity, double value, const char* sensor = "probe") {
    Reading r;
    r.sensor = sensor;
    r.bay = "front";
    r.quantity = quantity;
    r.at = at;
    r.value = r.raw = value;
    air.add(r);
  }
  void reads(Time at, double air_c, double rh_pct, const char* sensor = "probe") {
    reads(at, Quantity::air_temperature, air_c, sensor);
    reads(at, Quantity::relative_humidity, rh_pct, sensor);
  }
  void close(Time now) { air.close_minutes(now, gaps); }

  BayAir air{"front", minutes{30}};
  std::vector<GapRow> gaps;
};

}  // namespace

TEST_CASE("a minute is known once readings of both quantities stand on either side") {
  AirBench b;
  b.reads(t0, 20.0, 50.0);
  b.reads(t0 + minutes{10}, Quantity::air_temperature, 22.0);
  b.close(t0 + minutes{11});
  CHECK(b.air.frontier() == t0);  // humidity is not known any later
  b.reads(t0 + minutes{8}, Quantity::relative_humidity, 58.0);
  b.close(t0 + minutes{11});
  CHECK(b.air.frontier() == t0 + minutes{8});
  REQUIRE(b.air.point(t0 + minutes{5}) != nullptr);
  CHECK(b.air.point(t0 + minutes{5})->air_c == doctest::Approx(21.0));
  CHECK(b.air.point(t0 + minutes{5})->rh_pct == doctest::Approx(55.0));
  CHECK(std::isnan(b.air.point(t0 + minutes{5})->panel_c));
  CHECK(b.air.point(t0 + minutes{9}) == nullptr);
  CHECK(b.air.is_past(t0 + minutes{8}));
  CHECK_FALSE(b.air.is_past(t0 + minutes{8} + Millis{1}));
  CHECK(b.gaps.empty());
}

TEST_CASE("the first minute is the first after both quantities have been heard") {
  AirBench b;
  b.reads(t0 + seconds{10}, Quantity::air_temperature, 20.0);
  b.reads(t0 + minutes{3} + seconds{20}, Quantity::relative_humidity, 50.0);
  b.reads(t0 + minutes{6}, 20.0, 50.0);
  b.close(t0 + minutes{6});
  CHECK(b.air.first() == t0 + minutes{4});
}

TEST_CASE("minutes that have not come are not made, however fast a source's clock runs") {
  AirBench b;
  b.reads(t0, 20.0, 50.0);
  b.reads(t0 + minutes{4}, 20.0, 50.0);
  b.close(t0 + minutes{2} + seconds{5});
  CHECK(b.air.frontier() == t0 + minutes{2});
}

TEST_CASE("silence beyond the limit is a gap, told by its readings and bridged with the slower end") {
  AirBench b;
  for (int i = 0; i <= 10; ++i) {
    b.reads(t0 + minutes{i}, 21.0, 50.0);
  }
  const Time back = t0 + minutes{10} + hours{2};
  b.close(back - minutes{1});
  CHECK(b.air.frontier() == t0 + minutes{10});  // nothing is bridged before the far end is known
  CHECK(b.gaps.empty());
  b.reads(back, 15.0, 65.0);  // colder and damper: slower
  b.reads(back + minutes{1}, 15.0, 65.0);
  b.close(back + minutes{1});
  REQUIRE(b.gaps.size() == 1);
  CHECK(b.gaps[0].bay == "front");
  CHECK(b.gaps[0].from == t0 + minutes{10});
  CHECK(b.gaps[0].to == back);
  CHECK(b.gaps[0].why == GapWhy::no_readings);
  CHECK_FALSE(b.air.point(t0 + minutes{10})->bridged);
  CHECK_FALSE(b.air.point(back)->bridged);
  for (Time t = t0 + minutes{11}; t < back; t += minutes{1}) {
    REQUIRE(b.air.point(t) != nullptr);
    CHECK(b.air.point(t)->bridged);
    CHECK(b.air.point(t)->air_c == 15.0);
    CHECK(b.air.point(t)->rh_pct == 65.0);
  }
}

TEST_CASE("the slower end is taken when it is the first one, too") {
  AirBench b;
  b.reads(t0, 10.0, 80.0);
  b.reads(t0 + hours{1}, 21.0, 50.0);
  b.close(t0 + hours{1});
  REQUIRE(b.gaps.size() == 1);
  CHECK(b.air.point(t0 + minutes{30})->air_c == 10.0);
}

TEST_CASE("silence of exactly the limit is no gap") {
  AirBench b;
  b.reads(t0, 20.0, 50.0);
  b.reads(t0 + minutes{30}, 22.0, 50.0);
  b.close(t0 + minutes{30});
  CHECK(b.gaps.empty());
  CHECK(b.air.point(t0 + minutes{15})->air_c == doctest::Approx(21.0));
}

TEST_CASE("one quantity's silence is enough for a gap") {
  AirBench b;
  for (int i = 0; i <= 90; ++i) {
    b.reads(t0 + minutes{i}, Quantity::air_temperature, 21.0);
    if (i <= 5 || i >= 80) {
      b.reads(t0 + minutes{i}, Quantity::relative_humidity, 50.0);
    }
    b.close(t0 + minutes{i});
  }
  REQUIRE(b.gaps.size() == 1);
  CHECK(b.gaps[0].from == t0 + minutes{5});
  CHECK(b.gaps[0].to == t0 + minutes{80});
}

TEST_CASE("a backlog that comes before the next live reading leaves no gap") {
  AirBench b;
  b.reads(t0, 20.0, 50.0);
  b.close(t0 + hours{2});
  for (int i = 1; i <= 120; ++i) {
    b.reads(t0 + minutes{i}, 20.0, 50.0);
  }
  b.close(t0 + hours{2} + minutes{1});
  CHECK(b.gaps.empty());
  CHECK(b.air.frontier() == t0 + hours{2});
}

TEST_CASE("sensors of one quantity are averaged; a slow one is held, a silent one left out") {
  AirBench b;
  for (int i = 0; i <= 60; ++i) {
    b.reads(t0 + minutes{i}, 20.0, 50.0, "near");
    if (i == 0 || i == 10) {
      b.reads(t0 + minutes{i}, Quantity::air_temperature, 24.0, "far");
    }
    b.close(t0 + minutes{i});
  }
  CHECK(b.air.point(t0 + minutes{5})->air_c == doctest::Approx(22.0));
  CHECK(b.air.point(t0 + minutes{40})->air_c == doctest::Approx(22.0));
  CHECK(b.air.point(t0 + minutes{41})->air_c == doctest::Approx(20.0));
  CHECK(b.gaps.empty());
}

TEST_CASE("a stepped clock is on record even where no minute is missing") {
  AirBench b;
  for (int i = 0; i <= 5; ++i) {
    b.reads(t0 + minutes{i}, 20.0, 50.0);
  }
  b.close(t0 + minutes{5});
  b.air.clock_stepped();
  for (int i = 6; i <= 10; ++i) {
    b.reads(t0 + minutes{i} + seconds{20}, 20.0, 50.0);
    b.close(t0 + minutes{i} + seconds{20});
  }
  REQUIRE(b.gaps.size() == 1);
  CHECK(b.gaps[0].from == t0 + minutes{5});
  CHECK(b.gaps[0].to == t0 + minutes{6} + seconds{20});
  CHECK(b.gaps[0].why == GapWhy::clock_step);
}

TEST_CASE("what is present is the newest, not older than the limit") {
  AirBench b;
  b.reads(t0, 20.0, 50.0);
  CHECK(b.air.present(t0 + minutes{30}).air_c == 20.0);
  CHECK_FALSE(b.air.present(t0 + minutes{31}).air_c.has_value());
  CHECK(b.air.present(t0 + minutes{31}).as_of == t0);
}

// 10.19 C at 21 C and 50 %: over water by any of the usual formulations, rounded.
TEST_CASE("each minute knows its dew point, and its pace is 1 at 21 C and 50 %") {
  AirBench b;
  b.reads(t0, 21.0, 50.0);
  b.close(t0);
  CHECK(b.air.point(t0)->pace == doctest::Approx(1.0));
  CHECK(b.air.point(t0)->dew_point_c == doctest::Approx(10.19).epsilon(0.001));
}

TEST_CASE("a gap longer than a bridge may be stays a hole, and costs nothing") {
  AirBench b;
  const Time then = Time{} + hours{1};
  b.reads(then, 21.0, 50.0);
  b.reads(then + minutes{5}, 21.0, 50.0);
  b.close(then + minutes{5});
  b.reads(t0, 20.0, 55.0);
  b.reads(t0 + minutes{4}, 20.0, 55.0);
  b.close(t0 + minutes{4});
  REQUIRE(b.gaps.size() == 1);
  CHECK(b.gaps[0].from == then + minutes{5});
  CHECK(b.gaps[0].to == t0);
  REQUIRE(b.air.stretches().size() == 2);
  CHECK(b.air.stretches()[0].size() == 6);
  CHECK(b.air.stretches()[1].size() == 5);
  CHECK(b.air.first() == then);
  CHECK(b.air.frontier() == t0 + minutes{4});
  CHECK(b.air.point(then + minutes{5}) != nullptr);
  CHECK(b.air.point(then + minutes{6}) == nullptr);
  CHECK(b.air.point(t0 - minutes{1}) == nullptr);
  CHECK(b.air.point(t0)->at == t0);
  CHECK_FALSE(b.air.point(t0)->bridged);
  CHECK(b.air.next_stretch(then + minutes{5}) == t0);
  CHECK_FALSE(b.air.next_stretch(t0).has_value());

  b.air.forget_before(then + minutes{3});
  CHECK(b.air.first() == then + minutes{3});
  b.air.forget_before(t0 + minutes{1});
  CHECK(b.air.first() == t0 + minutes{1});
  b.air.forget_before(t0 + hours{1});
  CHECK(b.air.first() == t0 + minutes{4});
}

TEST_CASE("the longest bridge is a bridge, a minute more is a hole") {
  // Eight days: what the bay's air is kept for. Common practice, no source.
  CHECK(engine::longest_bridge == hours{8 * 24});
  for (const Millis more : {Millis{0}, Millis{minutes{1}}}) {
    AirBench b;
    b.reads(t0, 21.0, 50.0);
    b.close(t0);
    const Time back = t0 + engine::longest_bridge + more;
    b.reads(back, 20.0, 55.0);
    b.close(back);
    CHECK(b.gaps.size() == 1);
    CHECK((b.air.point(t0 + hours{1}) == nullptr) == (more > Millis{0}));
  }
}
