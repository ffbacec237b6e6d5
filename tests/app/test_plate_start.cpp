// A start while a witness plate dries, and after it was seen to its end.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include "app/journalled_shop.hpp"
#include "app/times.hpp"
#include "support/scratch_folder.hpp"
#include "support/small_shop.hpp"

namespace dryclock::app {
namespace {

using namespace std::chrono_literals;
using models::ZoneKind;

// The front bay's sensor sends until then.
void passes(JournalledShop& shop, Time& now, Time until) {
  for (int turn = 0; now < until; ++turn) {
    now += 20min;
    const double off = turn % 2 == 0 ? 0.1 : -0.1;  // a value that never moves would be called stuck
    shop.hears(now, "bays/front", fmt::format(R"({{"t":{:.1f},"h":{:.1f}}})", 21.0 + off, 50.0 + off));
  }
}

}  // namespace

TEST_CASE("a start reads the air from when the plate was laid; what was seen to its end needs none") {
  const test::ScratchFolder folder;
  const auto file = folder / "a.db";
  Time now = monday;
  Seq plate = 0;
  std::optional<double> chance;
  {
    JournalledShop shop(file, support::small_shop(), now);
    passes(shop, now, monday + 2h);
    plate = shop.does(now, PlateLaid{"baseline", "", "front", "", models::Wetness::pooled, {}});
    passes(shop, now, monday + 44h);  // longer than what is read before any row that is needed
    chance = shop.engine().plates().at(0).zones.at(1).tenth_chance;
    REQUIRE(chance);
  }
  {
    JournalledShop shop(file, support::small_shop(), now);
    CHECK(shop.engine().plates().at(0).zones.at(1).tenth_chance == chance);
    for (const auto zone : {ZoneKind::edge, ZoneKind::recess}) {
      shop.does(now, PlateSeen{plate, zone, PlateSign::none_wet});
    }
    REQUIRE(shop.engine().plates().at(0).known);
    passes(shop, now, monday + 100h);
  }
  JournalledShop shop(file, support::small_shop(), now);
  CHECK(shop.engine().plates().at(0).known);
  CHECK(shop.engine().plates().at(0).over);
  // No row of that time is read again but the shop's events.
  CHECK(shop.engine().air("front", monday, monday + 50h).empty());
}

}  // namespace dryclock::app
