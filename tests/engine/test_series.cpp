#include "engine/series.hpp"

#include <doctest/doctest.h>

#include "engine/told.hpp"

using namespace dryclock;
using engine::Series;
using std::chrono::minutes;
using std::chrono::seconds;
using test::t0;

namespace {
const Millis reach = minutes{30};
}  // namespace

TEST_CASE("between two readings the value is a straight line") {
  Series s;
  CHECK_FALSE(s.add(t0, 20.0).has_value());
  CHECK(s.add(t0 + minutes{20}, 24.0) == t0);
  CHECK(s.at(t0, reach) == 20.0);
  CHECK(s.at(t0 + minutes{5}, reach) == doctest::Approx(21.0));
  CHECK(s.at(t0 + minutes{20}, reach) == 24.0);
}

TEST_CASE("readings may come out of order, and a repeated time replaces") {
  Series s;
  s.add(t0, 20.0);
  s.add(t0 + minutes{20}, 24.0);
  CHECK(s.add(t0 + minutes{10}, 20.0) == t0);
  CHECK(s.at(t0 + minutes{5}, reach) == doctest::Approx(20.0));
  s.add(t0 + minutes{10}, 30.0);
  CHECK(s.at(t0 + minutes{5}, reach) == doctest::Approx(25.0));
}

TEST_CASE("the newest reading is held no longer than the reach") {
  Series s;
  s.add(t0, 20.0);
  CHECK(s.at(t0 + reach, reach) == 20.0);
  CHECK_FALSE(s.at(t0 + reach + Millis{1}, reach).has_value());
}

TEST_CASE("readings further apart than the reach are not joined, each speaks for less than a minute") {
  Series s;
  s.add(t0, 20.0);
  s.add(t0 + reach + seconds{1}, 24.0);
  CHECK(s.at(t0 + seconds{59}, reach) == 20.0);
  CHECK_FALSE(s.at(t0 + minutes{1}, reach).has_value());
  CHECK_FALSE(s.at(t0 + minutes{15}, reach).has_value());
  CHECK(s.at(t0 + reach - seconds{58}, reach) == 24.0);
}

TEST_CASE("nothing is joined or held across a cut") {
  Series s;
  s.add(t0, 20.0);
  s.cut();
  CHECK_FALSE(s.at(t0 + minutes{1}, reach).has_value());
  s.add(t0 + minutes{10}, 24.0);
  CHECK_FALSE(s.at(t0 + minutes{5}, reach).has_value());
  CHECK(s.at(t0, reach) == 20.0);
  CHECK(s.at(t0 + minutes{10}, reach) == 24.0);
}

TEST_CASE("forgetting keeps what the next line starts from") {
  Series s;
  for (int i = 0; i <= 10; ++i) {
    s.add(t0 + minutes{i}, i);
  }
  s.forget_before(t0 + minutes{5} + seconds{30});
  CHECK(s.earliest() == t0 + minutes{5});
  CHECK(s.at(t0 + minutes{5} + seconds{30}, reach) == doctest::Approx(5.5));
  CHECK(s.last_until(t0 + minutes{7} + seconds{1}) == t0 + minutes{7});
  CHECK(s.first_from(t0 + minutes{7} + seconds{1}) == t0 + minutes{8});
  CHECK_FALSE(s.first_from(t0 + minutes{11}).has_value());
}

TEST_CASE("no minute before the next known one has a value") {
  Series s;
  s.add(t0, 20.0);
  s.add(t0 + minutes{10}, 20.0);
  s.add(t0 + minutes{95} + seconds{20}, 20.0);
  s.cut();
  s.add(t0 + minutes{97} + seconds{50}, 20.0);
  s.add(t0 + minutes{240}, 20.0);
  for (Time t = t0 - minutes{60}; t <= t0 + minutes{300}; t += minutes{1}) {
    CAPTURE(to_rfc3339(t));
    std::optional<Time> walked;
    for (Time u = t; u <= t0 + minutes{300} && !walked; u += minutes{1}) {
      if (s.at(u, reach)) {
        walked = u;
      }
    }
    CHECK(s.next_known(t, reach) == walked);
  }
}
