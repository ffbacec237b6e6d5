#include <doctest/doctest.h>

#include "history/boots.hpp"
#include "noon.hpp"

namespace dryclock::history {
namespace {

using namespace std::chrono_literals;

// Rows `first` to `last` of a boot that began at `booted` by its clock, an hour apart from the boot's first
// minute on.
Stretch rows(Time booted, Seq first, Seq last, Millis from = 1min) {
  return {booted, from, from + (last - first) * 1h, first, last};
}

TEST_CASE("a clock that nobody touched leaves every row as it is") {
  const auto judged = judge(
      {{"a", {rows(noon, 1, 5), rows(noon + 9s, 6, 9, 6h)}, true}, {"b", {rows(noon + 24h, 10, 12)}, false}});
  CHECK(judged.redated.empty());
  CHECK(judged.booted == noon + 24h);
  CHECK(judged.known);
}

TEST_CASE("within a boot the clock's last word dates what came before") {
  const auto judged =
      judge({{"a", {rows(noon + 31h, 1, 5), rows(noon, 6, 9, 6h), rows(noon + 31h, 10, 12, 12h)}, false}});
  REQUIRE(judged.redated.size() == 1);
  CHECK(judged.redated[0] == Redated{"a", noon + 31h, 6, 9, Millis{31h}, ClockFault::stepped});
  CHECK(judged.booted == noon + 31h);
}

TEST_CASE("a clock that was ahead in an earlier boot: its rows end where this one begins") {
  // Five hours of rows, a year ahead; then a boot whose clock is right.
  const Millis year = 365 * 24h;
  const auto judged = judge({{"a", {rows(noon + year, 1, 6)}, false}, {"b", {rows(noon + 12h, 7, 9)}, true}});
  REQUIRE(judged.redated.size() == 1);
  const auto& redated = judged.redated[0];
  CHECK(redated.boot == "a");
  CHECK(redated.why == ClockFault::ahead);
  CHECK(redated.first == 1);
  CHECK(redated.last == 6);
  CHECK(redated.booted + 1min + 5h == noon + 12h);  // its last row comes when "b" boots
  CHECK(judged.known);
}

TEST_CASE("boots before a clock that was ahead stay where they were, unless it pushes them") {
  const auto calm = judge({{"z", {rows(noon - 48h, 1, 2)}, true},
                           {"a", {rows(noon + 900h, 3, 4)}, false},
                           {"b", {rows(noon, 5, 6)}, true}});
  REQUIRE(calm.redated.size() == 1);
  CHECK(calm.redated[0].boot == "a");
  const auto pushed = judge({{"z", {rows(noon + 800h, 1, 2)}, false},
                             {"a", {rows(noon + 900h, 3, 4)}, false},
                             {"b", {rows(noon, 5, 6)}, true}});
  REQUIRE(pushed.redated.size() == 2);
  const auto& z = pushed.redated[0];
  const auto& a = pushed.redated[1];
  CHECK(z.booted + 1min + 1h == a.booted);
  CHECK(a.booted + 1min + 1h == noon);
}

TEST_CASE("a machine without a clock of its own follows what came last, and does not know the time") {
  for (const Time says : {Time{}, noon - 30min}) {  // 1970, and the time at which it was last put down
    CAPTURE(to_rfc3339(says));
    const auto judged =
        judge({{"a", {rows(noon - 1min, 1, 1)}, true}, {"b", {Stretch{says, 2min, 2min, 0, 0}}, false}});
    CHECK_FALSE(judged.known);
    CHECK(judged.booted + 2min == noon);
    REQUIRE(judged.redated.size() == 1);
    CHECK(judged.redated[0].why == ClockFault::behind);
  }
  CHECK_FALSE(judge({{"a", {rows(Time{}, 1, 1)}, false}}).known);  // nothing came before
}

TEST_CASE("a clock that nobody vouches for is behind one that somebody vouched for, however far") {
  // "a" ends at noon + 2 h 1 min; "b" is two minutes old and says three hours less than noon.
  const auto judged = judge({{"z", {rows(noon - 48h, 1, 2)}, true},
                             {"a", {rows(noon, 3, 5)}, true},
                             {"b", {Stretch{noon - 3h, 2min, 2min, 0, 0}}, false}});
  CHECK_FALSE(judged.known);
  REQUIRE(judged.redated.size() == 1);
  CHECK(judged.redated[0].boot == "b");
  CHECK(judged.redated[0].why == ClockFault::behind);
  CHECK(judged.booted + 2min == noon + 2h + 1min);
}

TEST_CASE("a time before all that is known is behind, also where an earlier boot began in 1970") {
  const auto judged = judge({{"0", {rows(Time{}, 1, 1)}, false},
                             {"a", {rows(noon, 2, 4)}, false},
                             {"b", {Stretch{noon - 24h, 2min, 2min, 0, 0}}, false}});
  CHECK_FALSE(judged.known);
  CHECK(judged.redated.back().boot == "b");
  CHECK(judged.redated.back().why == ClockFault::behind);
}

TEST_CASE("a clock that is put right by small steps is not one that was set") {
  // 150 s in a month, a few each night; then a start of the program, and then one after the clock was set.
  Stretch month{noon, 1min, 30 * 24h, 1, 900};
  month.ended = noon + 150s;
  CHECK(judge({{"a", {month, rows(noon + 150s, 901, 902, 30 * 24h + 1h)}, true}}).redated.empty());
  const auto set = judge({{"a", {month, rows(noon + 170s, 901, 902, 30 * 24h + 1h)}, true}});
  REQUIRE(set.redated.size() == 1);
  CHECK(set.redated[0] == Redated{"a", noon + 170s, 1, 900, Millis{170s}, ClockFault::stepped});
}

TEST_CASE("what somebody sets the clock to counts, also behind the rows of an earlier boot") {
  const auto judged = judge({{"a", {rows(noon, 1, 3)}, false},
                             {"b", {rows(noon + 1h + 58min, 4, 5), Stretch{noon, 2h, 2h, 0, 0}}, true}});
  REQUIRE(judged.redated.size() == 2);
  CHECK(judged.redated[0].why == ClockFault::ahead);
  CHECK(judged.redated[1].why == ClockFault::stepped);
  CHECK(judged.known);
  CHECK(judged.booted == noon);
}

// Machine "b" runs for two hours, its first row came after two minutes; "a" before it wrote until noon.
// Nobody vouches for the clock of "b", which says that it booted at `says`.
Judged after_noon(Time says, Time by_devices) {
  return judge(
      {{"a", {rows(noon - 3h - 1min, 1, 4)}, true},
       {"b", {Stretch{noon - 2min, 2min, 1h, 5, 9}, Stretch{says, 2h, 2h, 0, 0}}, false, by_devices}});
}

TEST_CASE("a clock that is behind is put right by what devices tell") {
  for (const Time says : {Time{}, noon - 30min}) {  // 1970, and the time at which it was last put down
    CAPTURE(to_rfc3339(says));
    const auto judged = after_noon(says, noon + 9h);
    CHECK(judged.known);
    CHECK_FALSE(judged.trusted);
    CHECK(judged.booted == noon + 9h);
    REQUIRE(judged.redated.size() == 1);
    CHECK(judged.redated[0].why == ClockFault::by_devices);
    CHECK(judged.redated[0].booted == noon + 9h);
    CHECK(judged.redated[0].first == 5);  // they had been taken to follow the rows of "a"
    CHECK(judged.redated[0].last == 9);
  }
  // The first boot that there is.
  const auto alone = judge({{"a", {rows(Time{}, 1, 1)}, false, noon}});
  CHECK(alone.known);
  CHECK(alone.booted == noon);
}

TEST_CASE("devices that tell a time before what came last, or before this program, are not believed") {
  const auto judged = after_noon(noon - 30min, noon - 5min);
  CHECK_FALSE(judged.known);
  CHECK(judged.booted + 2min == noon);
  const Time long_ago = from_unix_ms(1'000'000'000'000);  // 2001-09-09
  CHECK_FALSE(judge({{"a", {rows(Time{}, 1, 1)}, false, long_ago}}).known);
}

TEST_CASE("devices that agree with a clock do not vouch for it: a gateway on the machine tells its time") {
  const auto judged = after_noon(noon - 30min, noon - 30min);
  CHECK_FALSE(judged.known);
  CHECK(judged.booted + 2min == noon);
  REQUIRE(judged.redated.size() == 1);
  CHECK(judged.redated[0].boot == "b");
}

TEST_CASE("whoever vouches for a clock is believed before devices") {
  const auto judged =
      judge({{"a", {rows(noon, 1, 3)}, true},
             {"b", {Stretch{noon + 9h, 2min, 1h, 4, 9}, Stretch{noon + 8h, 2h, 2h, 0, 0}}, true, noon + 9h}});
  REQUIRE(judged.redated.size() == 1);
  CHECK(judged.redated[0].why == ClockFault::stepped);
  CHECK(judged.booted == noon + 8h);
  CHECK(judged.trusted);
}

TEST_CASE("a clock that may be right is not touched by what devices tell") {
  const auto judged =
      judge({{"a", {rows(noon, 1, 3)}, true}, {"b", {rows(noon + 9h, 4, 5)}, false, noon + 8h}});
  CHECK(judged.redated.empty());
  CHECK(judged.known);
  CHECK_FALSE(judged.trusted);
  CHECK(judged.booted == noon + 9h);
}

}  // namespace
}  // namespace dryclock::history
