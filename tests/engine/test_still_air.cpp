#include "engine/still_air.hpp"

#include <doctest/doctest.h>

#include "engine/minutes.hpp"
#include "engine/told.hpp"
#include "engine/vehicle_track.hpp"
#include "support/small_shop.hpp"

using namespace dryclock;
using engine::Bays;
using engine::make_plan;
using engine::minute;
using engine::next_change;
using engine::VehiclePlan;
using engine::VehicleTrack;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using test::lay;
using test::morning;

namespace {

const Time silent = morning + days{4};  // the front bay's last reading before the hole
const Time back = silent + days{9};     // and the first after it
const Time until = back + hours{8};

// The front bay has a hole of nine days, the back bay was first heard of in the middle of it.
class HoledShop {
 public:
  HoledShop() {
    hear("front", morning, silent);
    hear("back", silent + days{4}, silent + days{4} + hours{2});
    hear("front", back, until);
  }

  VehiclePlan plan(std::vector<std::pair<Time, EventDetail>> events, std::optional<double> panel_c = 5.0) {
    VehicleIn in;
    in.reference = "grey-van";
    in.bay = "front";
    in.panel_c = panel_c;
    events.insert(events.begin(), {morning, in});
    std::vector<Event> entered;
    for (auto& [at, detail] : events) {
      Event event;
      event.seq = static_cast<Seq>(entered.size()) + 1;
      event.at = event.entered = at;
      event.detail = detail;
      entered.push_back(event);
    }
    return make_plan(1, entered, setup_.catalogue);
  }

  [[nodiscard]] VehicleTrack jumped(const VehiclePlan& plan) const {
    VehicleTrack track{slowest_};
    track.integrate(plan, bays_, until, VehicleTrack::Beyond::wait);
    return track;
  }
  // A call for every minute leaves nothing to jump over.
  [[nodiscard]] VehicleTrack walked(const VehiclePlan& plan) const {
    VehicleTrack track{slowest_};
    for (Time t = plan.from; t <= until; t += minute) {
      track.integrate(plan, bays_, t, VehicleTrack::Beyond::wait);
    }
    return track;
  }
  [[nodiscard]] const Bays& bays() const { return bays_; }

  models::PanelThermal slowest_;

 private:
  void hear(const std::string& bay, Time from, Time to) {
    for (Time t = from; t <= to; t += minutes{5}) {
      Reading reading;
      reading.sensor = bay;
      reading.bay = bay;
      reading.at = t;
      reading.quantity = Quantity::air_temperature;
      reading.value = 32.0 + 0.01 * static_cast<double>((t - morning) / minutes{5} % 7);
      bays_.find(bay)->add(reading);
      reading.quantity = Quantity::relative_humidity;
      reading.value = 20.0;
      bays_.find(bay)->add(reading);
      bays_.find(bay)->close_minutes(t, gaps_);
    }
  }

  Setup setup_ = support::small_shop();
  Bays bays_{setup_};
  std::vector<GapRow> gaps_;
};

void check_same(const VehiclePlan& plan, const HoledShop& shop) {
  const auto jumped = shop.jumped(plan);
  const auto walked = shop.walked(plan);
  CHECK(jumped.integrated() == walked.integrated());
  CHECK(jumped.panel_c() == walked.panel_c());
  for (const auto& piece : plan.pieces) {
    CAPTURE(piece.lay.panel);
    const auto* one = jumped.piece(piece.id);
    const auto* other = walked.piece(piece.id);
    REQUIRE((one == nullptr) == (other == nullptr));
    if (one == nullptr) {
      continue;
    }
    CHECK(one->bridged == other->bridged);
    CHECK(one->standard_hours == other->standard_hours);
    CHECK(one->panel.sheet_c == other->panel.sheet_c);
    CHECK(one->next_action == other->next_action);
    CHECK(bool{one->looks == other->looks});
    REQUIRE(one->piece.has_value() == other->piece.has_value());
    for (std::size_t zone = 0; one->piece && zone < one->piece->zones().size(); ++zone) {
      const auto& here = one->piece->trace(zone);
      const auto& there = other->piece->trace(zone);
      REQUIRE(here.size() == there.size());
      CHECK(here[here.size() - 1].seconds == there[there.size() - 1].seconds);
      CHECK(here[here.size() - 1].drunk == there[there.size() - 1].drunk);
      CHECK(here[here.size() - 1].clock == there[there.size() - 1].clock);
    }
  }
}

}  // namespace

TEST_CASE("a hole that is jumped over leaves what walking through it leaves") {
  HoledShop shop;
  SUBCASE("nothing happens in it") {
    check_same(shop.plan({{morning + hours{1}, lay(1, "bonnet")}}), shop);
  }
  SUBCASE("film that stands still in it says so") {
    const auto plan = shop.plan({{silent - hours{1}, lay(1, "bonnet")}});
    const auto track = shop.jumped(plan);
    CHECK(track.integrated() == until);
    CHECK(track.piece(2)->bridged);
    CHECK(track.piece(2)->standard_hours < 40.0);  // nine hours of warm, dry air, not nine days
    check_same(plan, shop);
  }
  SUBCASE("it is laid, wrapped, seen, heated and removed in it") {
    check_same(shop.plan({{silent - hours{1}, lay(1, "bonnet")},
                          {silent + days{1} + seconds{30}, EdgeWrapped{2}},
                          {silent + days{2}, Inspected{2, models::ZoneKind::field, models::Finding::wet}},
                          {silent + days{3}, lay(1, "lamp")},
                          {silent + days{5}, HeatApplied{5, HeatSource::lamp, 50.0, 90.0}},
                          {silent + days{6}, PieceRemoved{2}},
                          {back - minutes{30}, LampSwitched{1, true, 200.0}},
                          {back - minutes{10}, lay(1, "bumper")}}),
               shop);
  }
  SUBCASE("the vehicle moves through bays and out of the shop") {
    check_same(shop.plan({{silent - days{1}, lay(1, "bonnet")},
                          {silent + days{1}, VehicleMoved{1, "outside"}},
                          {silent + days{3}, VehicleMoved{1, "back"}},
                          {silent + days{4} + hours{1}, VehicleMoved{1, "front"}},
                          {back + hours{1}, lay(1, "lamp")}}),
               shop);
  }
  SUBCASE("the vehicle is handed over in it") {
    check_same(shop.plan({{silent - hours{1}, lay(1, "bonnet")},
                          {silent + days{2}, Released{.vehicle = 1, .advised = {}}}}),
               shop);
  }
}

TEST_CASE("a panel's temperature at its lay is not warmed in a hole") {
  HoledShop shop;
  // The vehicle's own panel is walked from its arrival: a like piece that is laid later finds the same.
  shop.slowest_ = shop.plan({{morning + minutes{9}, lay(1, "lamp")}}).pieces[0].spec.panel;
  const auto plan = shop.plan({{silent - minutes{20}, VehicleMoved{1, "outside"}},
                               {back - minutes{5}, VehicleMoved{1, "front"}},
                               {back + minutes{3}, lay(1, "lamp")}});
  VehicleTrack track{shop.slowest_};
  for (Time t = plan.from; t <= back + minutes{3}; t += minute) {
    track.integrate(plan, shop.bays(), t, VehicleTrack::Beyond::wait);
  }
  REQUIRE(track.piece(4)->piece.has_value());
  CHECK(track.piece(4)->panel.sheet_c == *track.panel_c());
}

TEST_CASE("a vehicle that came sixty years before the first air is where it is at once") {
  HoledShop shop;
  auto plan = shop.plan({{morning + hours{1}, lay(1, "lamp")}});
  plan.from = plan.arrived = Time{} + hours{1};
  plan.stays.front().from = plan.from;
  plan.pieces.front().from = plan.from + minutes{5};
  CHECK(next_change(plan, shop.bays(), plan.from) == plan.from + minutes{5});
  CHECK(next_change(plan, shop.bays(), plan.from + minutes{5}) == morning);
  const auto track = shop.jumped(plan);
  CHECK(track.integrated() == until);
  CHECK(track.piece(2)->bridged);
  CHECK(track.piece(2)->piece.has_value());
}
