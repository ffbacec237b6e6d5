// What a vehicle taught becomes a row when it has left.
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>

#include "app/journalled_shop.hpp"
#include "app/times.hpp"
#include "support/core_shop.hpp"
#include "support/scratch_folder.hpp"
#include "support/small_shop.hpp"
#include "wire/learnt_json.hpp"

namespace dryclock::app {
namespace {

using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

struct TeachingShop {
  support::CoreShop shop{support::small_shop()};
  Time now = morning;
  VehicleId vehicle = 0;
  PieceId bonnet = 0;
  Seq look = 0;

  TeachingShop() {
    passes_to(morning + minutes{5});
    VehicleIn arrival;
    arrival.reference = "grey-van";
    arrival.bay = "front";
    vehicle = shop.does(now, arrival);
    Lay lay;
    lay.vehicle = vehicle;
    lay.panel = "bonnet";
    bonnet = shop.does(now, lay);
    passes_to(morning + hours{6});
    look = shop.does(now, Inspected{bonnet, models::ZoneKind::edge, models::Finding::wet});
    passes_to(morning + hours{7});
  }
  void passes_to(Time t) {
    for (; now < t; now += minutes{1}) {
      const auto beat = now.time_since_epoch() / minutes{1} % 5;
      shop.hears(now + seconds{10}, "bays/front",
                 R"({"t":21.)" + std::to_string(beat) + R"(,"h":48.0)" + std::to_string(beat) + "}");
    }
  }
  [[nodiscard]] std::vector<Learnt> learnt() const {
    std::vector<Learnt> out;
    for (const auto& row : shop.rows()) {
      if (row.kind == RowKind::learnt) {
        CHECK(row.message.topic == "vehicle/" + std::to_string(vehicle));
        out.push_back(wire::read_learnt(vehicle, row.message.payload).value());
      }
    }
    return out;
  }
};

// The same on disk, each start by itself.
class OnDisk {
 public:
  [[nodiscard]] JournalledShop starts() const { return {folder_ / "a.db", support::small_shop(), now}; }
  void airs(JournalledShop& shop, Time until) {
    for (; now < until; now += minutes{5}) {
      const auto beat = now.time_since_epoch() / minutes{5} % 5;
      shop.hears(now, "bays/front",
                 R"({"t":21.)" + std::to_string(beat) + R"(,"h":48.0)" + std::to_string(beat) + "}");
    }
  }
  // A bonnet that was looked at has left.
  void comes_and_leaves(JournalledShop& shop) {
    airs(shop, now + minutes{10});
    VehicleIn arrival;
    arrival.reference = "grey-van";
    arrival.bay = "front";
    Lay lay;
    lay.vehicle = shop.does(now, arrival);
    lay.panel = "bonnet";
    bonnet = shop.does(now, lay);
    airs(shop, now + hours{6});
    shop.does(now, Inspected{bonnet, models::ZoneKind::edge, models::Finding::wet});
    airs(shop, now + hours{1});
    shop.does(now, Released{lay.vehicle, ""});
  }
  Time now = morning;
  PieceId bonnet = 0;

 private:
  test::ScratchFolder folder_;
};

std::size_t rows_learnt(const JournalledShop& shop) {
  return shop.reader().rows_of(RowKind::learnt).value().size();
}

}  // namespace

TEST_CASE("a start that no longer replays a vehicle's air knows what it taught, to the bit") {
  OnDisk disk;
  LearnedView before;
  {
    auto shop = disk.starts();
    disk.comes_and_leaves(shop);
    disk.airs(shop, disk.now + hours{1});
    shop.asks();
    CHECK(rows_learnt(shop) == 1);
    disk.now += hours{5 * 24};
    disk.airs(shop, disk.now + hours{1});
    before = shop.engine().learned();
    shop.settles();
  }
  CHECK(before.looks == 1);
  auto again = disk.starts();
  CHECK(again.engine().history(disk.bonnet).value().empty());  // nobody measured then, as far as it knows
  CHECK(bool{again.engine().learned() == before});
  again.asks();
  CHECK(rows_learnt(again) == 1);
}

TEST_CASE("a daemon that ends right after a release learns at its next start") {
  OnDisk disk;
  {
    auto shop = disk.starts();
    disk.comes_and_leaves(shop);
    shop.asks();
    CHECK(rows_learnt(shop) == 0);
    shop.settles();
  }
  disk.now += hours{14};
  auto again = disk.starts();
  disk.airs(again, disk.now + hours{1});
  again.asks();
  CHECK(rows_learnt(again) == 1);
  CHECK(again.engine().learned().looks == 1);
}

TEST_CASE("a vehicle that has left is learnt from once, when its last minute is known") {
  TeachingShop shop;
  CHECK(shop.learnt().empty());
  const Seq released = shop.shop.does(shop.now, Released{shop.vehicle, ""});
  CHECK(shop.learnt().empty());  // the air until then is not known yet
  shop.passes_to(shop.now + minutes{30});
  const auto rows = shop.learnt();
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].release == released);
  REQUIRE(rows[0].pieces.size() == 1);
  CHECK(rows[0].pieces[0].piece == shop.bonnet);
  CHECK(rows[0].pieces[0].film == "baseline");
  std::size_t signs = 0;
  for (const auto& zone : rows[0].pieces[0].zones) {
    for (const auto& one : zone.seen) {
      ++signs;
      CHECK(one.event == shop.look);
      CHECK(one.seen.sign == models::Sign::wet);
      CHECK(one.seen.seconds == doctest::Approx(21'300.0).epsilon(0.01));  // 5 h 55 min after lay
      CHECK(std::ranges::is_sorted(one.seen.drunk, std::greater<>{}));     // what resists more drinks less
    }
  }
  CHECK(signs == 1);
}

TEST_CASE("a restart comes to the same belief, and writes nothing again") {
  TeachingShop shop;
  shop.shop.does(shop.now, Released{shop.vehicle, ""});
  shop.passes_to(shop.now + minutes{30});
  REQUIRE(shop.learnt().size() == 1);
  const auto before = shop.shop.core().engine().learned();
  CHECK(before.looks == 1);
  const Seq last = shop.shop.rows().back().seq;
  for (const Seq committed : {last, Seq{0}}) {
    CAPTURE(committed);
    shop.shop.restarts(committed);
    shop.passes_to(shop.now + minutes{2});
    CHECK(shop.learnt().size() == 1);
    CHECK(bool{shop.shop.core().engine().learned() == before});
  }
}

TEST_CASE("a look that is entered late, after the vehicle has left, is learnt too") {
  TeachingShop shop;
  shop.shop.does(shop.now, Released{shop.vehicle, ""});
  shop.passes_to(shop.now + minutes{30});
  REQUIRE(shop.learnt().size() == 1);
  REQUIRE(shop.shop.does(shop.now, Inspected{shop.bonnet, models::ZoneKind::field, models::Finding::hazy},
                         morning + hours{5}) != 0);
  shop.passes_to(shop.now + minutes{2});
  CHECK(shop.learnt().size() == 2);
  CHECK(shop.shop.core().engine().learned().looks == 2);
}

TEST_CASE("of a vehicle whose air is not all there nothing is written") {
  TeachingShop shop;
  shop.shop.core().whole_since(morning + hours{1});
  shop.shop.does(shop.now, Released{shop.vehicle, ""});
  shop.passes_to(shop.now + minutes{30});
  CHECK(shop.learnt().empty());
}

TEST_CASE("nothing is written while the core is behind") {
  TeachingShop shop;
  shop.shop.does(shop.now, Released{shop.vehicle, ""});
  shop.shop.core().fall_behind();
  shop.passes_to(shop.now + minutes{30});
  CHECK(shop.learnt().empty());
}

}  // namespace dryclock::app
