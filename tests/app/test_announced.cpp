// What an outlook announces becomes a row, and is so from the row on.
#include <doctest/doctest.h>

#include <algorithm>

#include "app/times.hpp"
#include "support/core_shop.hpp"
#include "support/judged_by_age.hpp"
#include "support/small_shop.hpp"
#include "wire/announced_json.hpp"

namespace dryclock::app {
namespace {

using models::Milestone;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;

// A vehicle with a bonnet, laid at 8:00 in a warm, dry bay. Outlooks say nothing until `judges`.
struct AnnouncingShop {
  bool judges = false;
  OutlookTask last;  // that was handed out
  support::CoreShop shop{support::small_shop(), [this](const OutlookTask& task) {
                           last = task;
                           auto answer = support::judged_by_age(task);
                           if (!judges) {
                             answer.announcements.clear();
                           }
                           return answer;
                         }};
  Time now = morning;
  VehicleId vehicle = 0;
  PieceId bonnet = 0;

  AnnouncingShop() {
    passes_to(morning + minutes{5});
    VehicleIn arrival;
    arrival.reference = "grey-van";
    arrival.bay = "front";
    vehicle = shop.does(now, arrival);
    passes_to(morning + minutes{10});
    Lay lay;
    lay.vehicle = vehicle;
    lay.panel = "bonnet";
    bonnet = shop.does(now, lay);
  }
  void passes_to(Time t) {
    for (; now < t; now += minutes{1}) {
      const auto beat = now.time_since_epoch() / minutes{1} % 5;
      shop.hears(now + seconds{10}, "bays/front",
                 R"({"t":21.)" + std::to_string(beat) + R"(,"h":48.0)" + std::to_string(beat) + "}");
    }
  }
  // That `which` is ready, of the newest revision.
  [[nodiscard]] OutlookAnswer saying(std::vector<Milestone> which) const {
    auto answer = support::judged_by_age(last);
    answer.announcements.clear();
    for (const auto milestone : which) {
      answer.announcements.push_back({bonnet, milestone, Word::ready, 0.9});
    }
    return answer;
  }
  [[nodiscard]] std::vector<Announced> announced() const {
    std::vector<Announced> out;
    for (const auto& row : shop.rows()) {
      if (row.kind == RowKind::announced) {
        CHECK(row.message.topic == "vehicle/" + std::to_string(vehicle));
        out.push_back(wire::read_announced(vehicle, row.message.payload).value());
      }
    }
    return out;
  }
  [[nodiscard]] MilestoneView on_board(Milestone which) {
    return shop.core().board().vehicles.at(0).pieces.at(0).milestones[static_cast<std::size_t>(which)];
  }
};

}  // namespace

TEST_CASE("what an answer announces is on the board once its row is taken, and is written once") {
  AnnouncingShop shop;
  shop.passes_to(morning + hours{1});
  const auto answer = shop.saying({Milestone::wrap_ready});
  shop.shop.core().apply(answer);
  CHECK_FALSE(shop.on_board(Milestone::wrap_ready).announced);
  shop.shop.core().apply(answer);  // once more before the row is taken
  CHECK(shop.announced().size() == 1);
  shop.passes_to(shop.now + minutes{1});
  CHECK(shop.on_board(Milestone::wrap_ready).announced == answer.at);
  CHECK_FALSE(shop.on_board(Milestone::trim_ready).announced);
  shop.shop.core().apply(answer);  // and after
  shop.passes_to(shop.now + minutes{1});
  REQUIRE(shop.announced().size() == 1);
  CHECK(bool{shop.announced()[0] == Announced{shop.vehicle, answer.at, answer.announcements}});
  std::size_t told = 0;
  for (const auto& effects : shop.shop.effects()) {
    told += effects.milestones.size();
  }
  CHECK(told == 1);
}

TEST_CASE("what a later answer says while a row is on its way has a row of its own") {
  AnnouncingShop shop;
  shop.passes_to(morning + hours{1});
  shop.shop.core().apply(shop.saying({Milestone::wrap_ready}));
  shop.shop.core().apply(shop.saying({Milestone::wrap_ready, Milestone::trim_ready}));
  CHECK(shop.announced().size() == 1);
  shop.passes_to(shop.now + minutes{1});
  const auto rows = shop.announced();
  REQUIRE(rows.size() == 2);
  REQUIRE(rows[1].announcements.size() == 1);
  CHECK(rows[1].announcements[0].which == Milestone::trim_ready);
  CHECK(shop.on_board(Milestone::trim_ready).announced.has_value());
}

TEST_CASE("nothing is announced while the core is behind") {
  AnnouncingShop shop;
  shop.passes_to(morning + hours{1});
  shop.shop.core().fall_behind();
  shop.shop.core().apply(shop.saying({Milestone::wrap_ready}));
  CHECK(shop.announced().empty());
}

TEST_CASE("an answer to an older revision announces nothing") {
  AnnouncingShop shop;
  shop.passes_to(morning + hours{1});
  const auto old = shop.saying({Milestone::wrap_ready});
  shop.shop.does(shop.now, EdgeOpened{shop.bonnet});
  shop.shop.core().apply(old);
  CHECK(shop.announced().empty());
}

TEST_CASE("a restart comes to the same board, and announces nothing again") {
  AnnouncingShop shop;
  shop.judges = true;
  shop.passes_to(morning + hours{14});
  const auto rows = shop.announced();
  REQUIRE(rows.size() >= models::milestone_kinds);
  const auto before = shop.shop.core().board().vehicles.at(0);
  REQUIRE(before.release_ready.has_value());
  shop.judges = false;
  const Seq last = shop.shop.rows().back().seq;
  for (const Seq committed : {last, Seq{0}}) {
    CAPTURE(committed);
    shop.shop.restarts(committed);
    CHECK(shop.announced().size() == rows.size());
    const auto after = shop.shop.core().board().vehicles.at(0);
    CHECK(after.release_ready == before.release_ready);
    for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
      CAPTURE(k);
      CHECK(before.pieces.at(0).milestones[k].announced.has_value());
      CHECK(after.pieces.at(0).milestones[k].announced == before.pieces.at(0).milestones[k].announced);
    }
  }
}

TEST_CASE("a row of what is announced is dated by the clock, not by the outlook") {
  AnnouncingShop shop;
  shop.passes_to(morning + hours{1});
  const Time before = shop.shop.core().board().now;
  shop.shop.ticks(before + minutes{7});  // the clock on the wall
  shop.shop.core().apply(shop.saying({Milestone::wrap_ready}));
  REQUIRE(shop.announced().size() == 1);
  CHECK(shop.shop.rows().back().message.received_at == before + minutes{7});
}

}  // namespace dryclock::app
