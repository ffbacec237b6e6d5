#include "engine/check_event.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "engine/door.hpp"
#include "support/said.hpp"

using namespace dryclock;
using namespace dryclock::test;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

Value known(std::vector<std::string> names) {
  std::vector<Fact> all;
  std::ranges::transform(names, std::back_inserter(all), [](const std::string& name) -> Fact {
    return name == "outside" ? Fact{"refusals.outside"} : Fact{"refusals.name", {say::text("name", name)}};
  });
  return say::facts("known", std::move(all));
}
Value on_air(const char* key) {
  return say::word("quantity", key);
}

}  // namespace

TEST_CASE("refusals about vehicles are facts: who, and when it was, as an instant") {
  Door door;
  is(door.refusal(arrival("", "front")), {"refusals.no-reference"}, "/reference");
  is(door.refusal(arrival("red", "front")),
     {"refusals.in-shop", {say::text("reference", "red"), say::text("vehicle", "2")}}, "/reference");
  is(door.refusal(arrival("blue", "front", noon - hours{1})), {"refusals.hand-over-early"}, "/hand_over");
  is(door.refusal(HandOverAgreed{1, eight}), {"refusals.hand-over-early"}, "/hand_over");
  is(door.refusal(arrival("blue", "attic")),
     {"refusals.no-bay", {say::text("bay", "attic"), known({"outside", "front", "back"})}}, "/bay");
  is(door.refusal(VehicleMoved{99, "front"}), {"refusals.no-vehicle", {say::text("vehicle", "99")}},
     "/vehicle");
  is(door.refusal(Noted{12345}), {"refusals.no-vehicle", {say::text("vehicle", "12345")}}, "/vehicle");
  is(door.refusal(LampSwitched{1, true, 300.0}, eight - minutes{1}),
     {"refusals.arrived-later", {say::text("reference", "grey-van"), say::time("at", eight)}}, "/at");
  LampSwitched somewhere{1, true, 300.0};
  somewhere.area_m2 = 0.5;
  is(door.refusal(somewhere), {"refusals.lamp-where"}, "/piece");
  is(door.refusal(LampSwitched{1, true, 300.0, 99}), {"refusals.no-piece", {say::text("piece", "99")}},
     "/piece");
  is(door.refusal(LampSwitched{2, true, 300.0, 3}),
     {"refusals.other-vehicle", {say::fact("piece", piece("bonnet"))}}, "/piece");
  is(door.refusal(LampSwitched{1, true, 300.0, 3, models::ZoneKind::recess}),
     {"refusals.no-zone", {say::fact("piece", piece("bonnet")), say::word("zone", "words.zone-recess")}},
     "/zone");
  is(door.refusal(LampSwitched{1, true, 0.0}), {"refusals.lamp-without-heat"}, "/heat_w_m2");
  door.takes(Released{1, ""}, eight + hours{3});
  is(door.refusal(Trimmed{3}),
     {"refusals.handed-over", {say::text("reference", "grey-van"), say::time("at", eight + hours{3})}},
     "/vehicle");
  is(door.refusal(Released{1, ""}, eight + minutes{150}),
     {"refusals.handed-over-already", {say::text("reference", "grey-van")}}, "/vehicle");
}

TEST_CASE("refusals about pieces name them by their panel") {
  const Door door;
  is(door.refusal(lay(1, "")), {"refusals.which-panel"}, "/panel");
  is(door.refusal(lay(1, "bonnet", 3, 2)),
     {"refusals.no-such-part",
      {say::panel("panel", "bonnet"), say::text("part", "3"), say::text("parts", "2")}},
     "/part");
  auto wrong = lay(1, "bonnet");
  wrong.film = "glass";
  is(door.refusal(wrong), {"refusals.no-film", {say::text("film", "glass"), known({"baseline", "open"})}},
     "/film");
  wrong = lay(1, "bonnet");
  wrong.solution = "tea";
  is(door.refusal(wrong), {"refusals.no-solution", {say::text("solution", "tea"), known({"slip", "tack"})}},
     "/solution");
  is(door.refusal(lay(1, "bonet")),
     {"refusals.no-panel", {say::text("panel", "bonet"), known({"bonnet", "bumper", "lamp"})}}, "/panel");
  auto again = lay(2, "bonnet");
  again.replaces = 3;
  is(door.refusal(again), {"refusals.other-vehicle", {say::fact("piece", piece("bonnet"))}}, "/replaces");
  again.replaces = 99;
  is(door.refusal(again), {"refusals.no-piece", {say::text("piece", "99")}}, "/replaces");
  is(door.refusal(Trimmed{3}, eight + minutes{30}),
     {"refusals.laid-later", {say::fact("piece", piece("bonnet")), say::time("at", eight + hours{1})}},
     "/at");
  is(door.refusal(EdgeWrapped{4}),
     {"refusals.replaced",
      {say::fact("piece", piece("bumper", "2", 2)), say::text("old", "4"), say::text("by", "5")}},
     "/piece");
  is(door.refusal(Refitted{6}),
     {"refusals.removed", {say::fact("piece", piece("lamp")), say::time("at", eight + minutes{110})}},
     "/piece");
  is(door.refusal(Inspected{3, models::ZoneKind::recess, models::Finding::wet}),
     {"refusals.no-zone", {say::fact("piece", piece("bonnet")), say::word("zone", "words.zone-recess")}},
     "/zone");
  is(door.refusal(HeatApplied{3, HeatSource::heat_gun, 55.0, 0.0}), {"refusals.no-minutes"}, "/minutes");
  is(door.refusal(Rechecked{3, RecheckFinding::sound, models::ZoneKind::edge}), {"refusals.sound-lifts"},
     "/zone");
  is(door.refusal(Rechecked{99, RecheckFinding::sound}), {"refusals.no-piece", {say::text("piece", "99")}},
     "/piece");
  is(door.refusal(Rechecked{3, RecheckFinding::sound}, eight),
     {"refusals.laid-later", {say::fact("piece", piece("bonnet")), say::time("at", eight + hours{1})}},
     "/at");
}

TEST_CASE("refusals of plans, corrections, alerts and coupons") {
  const Door door;
  is(door.refusal(Planned{1, {{"", 1, 1}}}), {"refusals.which-panel"}, "/pieces");
  is(door.refusal(Planned{1, {{"bonnet", 3, 2}}}),
     {"refusals.no-such-part",
      {say::panel("panel", "bonnet"), say::text("part", "3"), say::text("parts", "2")}},
     "/pieces");
  is(door.refusal(Planned{1, {{"lamp", 1, 1}, {"lamp", 1, 1, {}, "upper-half"}}}),
     {"refusals.planned-twice", {say::panel("panel", "lamp")}}, "/pieces");
  is(door.refusal(Superseded{777}), {"refusals.no-event", {say::text("event", "777")}}, "/event");
  is(door.refusal(Superseded{9}), {"refusals.superseded", {say::text("event", "9")}}, "/event");
  Door erased;
  erased.takes(Forgotten{1}, noon);  // row 11
  is(erased.refusal(Superseded{11}), {"refusals.erased"}, "/event");
  is(door.refusal(AlertAcknowledged{"dew/1"}), {"refusals.no-alert", {say::text("alert", "dew/1")}},
     "/alert");
  is(door.refusal(CouponLaid{"open", "", "outside", 0.09, 0.9}), {"refusals.coupon-outside"}, "/bay");
  is(door.refusal(CouponLaid{"", "", "front", 0.09, 0.9}),
     {"refusals.no-film", {say::text("film", ""), known({"baseline", "open"})}}, "/film");
  is(door.refusal(BondCouponLaid{"open", "", "outside", ""}), {"refusals.coupon-outside"}, "/bay");
  is(door.refusal(BondCouponLaid{"open", "", "front", "soap"}),
     {"refusals.no-solution", {say::text("solution", "soap"), known({"slip", "tack"})}}, "/solution");
  is(door.refusal(BondCouponPulled{8, 5.0}), {"refusals.no-coupon", {say::text("coupon", "8")}}, "/coupon");
  is(door.refusal(BondMeasured{"", "", {}, {}}),
     {"refusals.no-film", {say::text("film", ""), known({"baseline", "open"})}}, "/film");
  is(door.refusal(CouponWeighed{3, 400.0}), {"refusals.no-coupon", {say::text("coupon", "3")}}, "/coupon");
  is(door.refusal(CouponWeighed{8, 400.0}, eight + hours{1}),
     {"refusals.coupon-later", {say::text("coupon", "8"), say::time("at", eight + hours{2})}}, "/at");
}

TEST_CASE("refusals of plates") {
  Door door;
  const auto plate = [](std::vector<models::ZoneKind> strips, std::string bay = "front") {
    return PlateLaid{"open", "", std::move(bay), "", models::Wetness::usual, std::move(strips)};
  };
  using models::ZoneKind;
  is(door.refusal(plate({}, "outside")), {"refusals.plate-outside"}, "/bay");
  is(door.refusal(PlateLaid{"", "", "front", "", models::Wetness::usual, {}}),
     {"refusals.no-film", {say::text("film", ""), known({"baseline", "open"})}}, "/film");
  is(door.refusal(PlateLaid{"open", "", "front", "beer", models::Wetness::usual, {}}),
     {"refusals.no-solution", {say::text("solution", "beer"), known({"slip", "tack"})}}, "/solution");
  is(door.refusal(plate({ZoneKind::edge, ZoneKind::turn})), {"refusals.plate-turned"}, "/strips");
  is(door.refusal(plate({ZoneKind::edge, ZoneKind::edge})),
     {"refusals.strip-twice", {say::word("zone", "words.zone-edge")}}, "/strips");
  door.takes(plate({ZoneKind::edge, ZoneKind::field}), eight + hours{2});  // row 11
  is(door.refusal(PlateSeen{8, ZoneKind::edge, PlateSign::half_wet}),
     {"refusals.no-plate", {say::text("plate", "8")}}, "/plate");
  is(door.refusal(PlateSeen{11, ZoneKind::recess, PlateSign::half_wet}),
     {"refusals.no-strip", {say::text("plate", "11"), say::word("zone", "words.zone-recess")}}, "/zone");
  is(door.refusal(PlateSeen{11, ZoneKind::edge, PlateSign::half_wet}, eight + hours{1}),
     {"refusals.plate-later", {say::text("plate", "11"), say::time("at", eight + hours{2})}}, "/at");
}

TEST_CASE("refusals of dates tell how many years they are away") {
  const Door door;
  is(door.refusal(Noted{1}, noon + minutes{6}), {"refusals.in-future", {say::time("at", noon + minutes{6})}},
     "/at");
  const Time long_ago = parse_rfc3339("2006-03-02T18:00:00Z").value();  // 20 years: 19 of 366 days
  is(door.refusal(Noted{1}, long_ago),
     {"refusals.years-back", {say::time("at", long_ago), say::count("years", 19)}}, "/at");
  const Time far = parse_rfc3339("2027-03-04T12:00:00Z").value();
  is(door.refusal(HandOverAgreed{1, far}),
     {"refusals.years-ahead", {say::time("at", far), say::count("years", 1)}}, "/hand_over");
}

TEST_CASE("refusals about sensors") {
  Door door;
  SensorAssigned bench{"bench", "front", "", "", 2.0, {}};
  bench.reads = {{"bench", "/t", Quantity::air_temperature, Unit::celsius, 1.0, 0.0, ""},
                 {"bench", "/h", Quantity::relative_humidity, Unit::percent, 1.0, 0.0, ""}};
  const auto with = [&](auto change) {
    auto changed = bench;
    change(changed);
    return door.refusal(changed);
  };
  is(with([](auto& s) { s.sensor = ""; }), {"refusals.sensor-nameless"}, "/sensor");
  is(with([](auto& s) { s.sensor = "a/b"; }), {"refusals.name-unfit"}, "/sensor");
  is(with([](auto& s) { s.sensor = "probe"; }), {"refusals.sensor-of-file", {say::text("sensor", "probe")}},
     "/sensor");
  is(with([](auto& s) { s.bay = "outside"; }),
     {"refusals.no-bay", {say::text("bay", "outside"), known({"front", "back"})}}, "/bay");
  is(with([](auto& s) { s.reads[0].topic = "a/#/b"; }), {"refusals.topic-unfit"}, "/reads/0/topic");
  is(with([](auto& s) { s.reads[1].pointer = "h"; }), {"refusals.pointer-unfit"}, "/reads/1/pointer");
  is(with([](auto& s) { s.reads[1].time_pointer = "t"; }), {"refusals.pointer-unfit"},
     "/reads/1/time_pointer");
  is(with([](auto& s) { s.reads[1].unit = Unit::kelvin; }),
     {"refusals.unit-unfit", {say::text("unit", "K"), on_air("words.quantity-relative-humidity")}},
     "/reads/1/unit");
  is(with([](auto& s) { s.reads[0].slope = 0.0; }), {"refusals.slope-zero"}, "/reads/0/slope");
  is(with([](auto& s) { s.reads[1] = s.reads[0]; }),
     {"refusals.read-twice", {on_air("words.quantity-air-temperature")}}, "/reads/1/quantity");
  is(door.refusal(SensorRetired{"bench"}),
     {"refusals.no-sensor", {say::text("sensor", "bench"), say::count("n", 2), known({"probe", "gateway"})}},
     "/sensor");
  is(door.refusal(SensorCorrected{"probe", Quantity::panel_temperature, 1.0, 1.0}),
     {"refusals.reads-no", {say::text("sensor", "probe"), on_air("words.quantity-panel-temperature")}},
     "/quantity");
  is(door.refusal(SensorCorrected{"probe", Quantity::air_temperature, 0.0, 1.0}), {"refusals.slope-zero"},
     "/slope");
  is(door.refusal(SensorCheckEnded{"probe"}), {"refusals.not-checking", {say::text("sensor", "probe")}},
     "/sensor");
  door.takes(SensorCheckStarted{"probe", models::Salt::sodium_chloride}, eight + hours{3});
  is(door.refusal(SensorCheckStarted{"probe", models::Salt::sodium_chloride}),
     {"refusals.checking-already", {say::text("sensor", "probe")}}, "/sensor");
  bench.reads.pop_back();
  door.takes(bench, eight + hours{3});
  is(door.refusal(SensorCheckStarted{"bench", models::Salt::sodium_chloride}),
     {"refusals.reads-no-humidity", {say::text("sensor", "bench")}}, "/sensor");
  bench.reads = {{"bench", "/h", Quantity::relative_humidity, Unit::percent, 1.0, 0.0, ""}};
  door.takes(bench, eight + hours{3});
  is(door.refusal(SensorCheckStarted{"bench", models::Salt::sodium_chloride}),
     {"refusals.reads-no-temperature", {say::text("sensor", "bench")}}, "/sensor");
}

TEST_CASE("a refusal in the words of who reads it, in their zone") {
  Door door;
  const auto catalogue = support::small_shop().catalogue;
  const auto entries = wording::entries_of(catalogue);
  const auto berlin = LocalZone::find("Europe/Berlin").value();
  const wording::Words german({Language::german}, entries, berlin);
  const wording::Words american({Language::english_us}, entries, LocalZone::find("America/Chicago").value());
  const auto early = door.refusal(Trimmed{3}, eight + minutes{30}).what;  // laid at 09:00 UTC
  CHECK(german.sentence(early) == "Motorhaube wurde erst am Mo. 2. März 10:00 verlegt");
  CHECK(american.fact(early) == "hood was laid on Mon Mar 2 3:00 AM, which is later");
  CHECK(german.fact(door.refusal(arrival("blue", "attic")).what) ==
        "keine Box „attic“; bekannt: draußen, front und back");
  const Time long_ago = parse_rfc3339("2006-03-02T18:00:00Z").value();
  CHECK(german.fact(door.refusal(Noted{1}, long_ago).what) ==
        "Do. 2. März 19:00 liegt mehr als 19 Jahre zurück; stimmt das Datum?");
  CHECK(german.fact(door.refusal(SensorRetired{"bench"}).what) ==
        "kein Sensor „bench“; bekannt: probe, gateway");
  CHECK(support::said(door.refusal(HandOverAgreed{1, eight + hours{24 * 370}}).what) ==
        "Sun 7 Mar 08:00 lies more than a year ahead; is the date right?");
}
