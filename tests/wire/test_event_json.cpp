#include "wire/event_json.hpp"

#include <doctest/doctest.h>

#include <set>

#include "domain/plate_view.hpp"

using namespace dryclock;
using wire::parse_event;
using wire::to_json;

namespace {

const Time entered = parse_rfc3339("2026-03-01T20:00:00Z").value();

Event parsed(const std::string& json) {
  const auto event = parse_event(json, entered);
  REQUIRE_MESSAGE(event.has_value(), json << ": " << (event ? "" : to_string(event.error())));
  return *event;
}

void check_refused(const std::string& json, const std::string& where, std::string_view words = "") {
  CAPTURE(json);
  const auto event = parse_event(json, entered);
  REQUIRE_FALSE(event.has_value());
  CHECK(event.error().where == where);
  CAPTURE(event.error().what);
  CHECK(event.error().what.find(words) != std::string::npos);
}

}  // namespace

TEST_CASE("a lay with everything") {
  const auto event = parsed(
      R"({"what":"lay","at":"2026-03-01T14:20:00+01:00","who":"AB","note":"second try","key":"k-1","vehicle":3,)"
      R"("panel":"bumper","part":1,"parts":2,"film":"baseline","solution":"slip","wetness":"wet",)"
      R"("zones":["field","edge","recess"],"lot":"L 42","area_m2":1.25,"tension":"left corner",)"
      R"("relief_cuts":"two","joins":"none","replaces":9})");
  CHECK(event.at == parse_rfc3339("2026-03-01T13:20:00Z").value());
  CHECK(event.entered == entered);
  CHECK(event.who == "AB");
  CHECK(event.key == "k-1");
  const auto& lay = std::get<Lay>(event.detail);
  CHECK(lay.vehicle == 3);
  CHECK(lay.parts == 2);
  CHECK(lay.wetness == models::Wetness::wet);
  CHECK(lay.zones == std::vector{models::ZoneKind::field, models::ZoneKind::edge, models::ZoneKind::recess});
  CHECK(lay.area_m2 == 1.25);
  CHECK(lay.notes.tension == "left corner");
  CHECK(lay.replaces == 9);
}

TEST_CASE("what may be left out has its default") {
  const auto event = parsed(R"({"what":"lay","vehicle":3,"panel":"bonnet"})");
  CHECK(event.at == entered);
  const auto& lay = std::get<Lay>(event.detail);
  CHECK(lay.part == 1);
  CHECK(lay.wetness == models::Wetness::usual);
  CHECK(lay.zones.empty());
  CHECK_FALSE(lay.replaces);
  CHECK_FALSE(std::get<HandOverAgreed>(parsed(R"({"what":"hand-over","vehicle":3,"hand_over":null})").detail)
                  .hand_over);
}

TEST_CASE("every kind of event reads back to itself") {
  const std::vector<std::string> events{
      R"({"what":"vehicle-in","reference":"grey van \"7\"","bay":"front","hand_over":"2026-03-04T17:00:00Z","panel_c":-3.5,"plate_sha256":"00ff","customer_sha256":"01fe"})",
      R"({"what":"vehicle-moved","vehicle":1,"bay":"outside"})",
      R"({"what":"hand-over","vehicle":1,"hand_over":"2026-03-04T17:00:00Z"})",
      R"({"what":"lay","vehicle":1,"panel":"bonnet","film":"open","zones":["field"],"area_m2":0.1,"replaces":2})",
      R"({"what":"edge-opened","piece":2})",
      R"({"what":"edge-wrapped","piece":2})",
      R"({"what":"trimmed","piece":2})",
      R"({"what":"piece-removed","piece":2})",
      R"({"what":"inspected","piece":2,"zone":"edge","finding":"hazy"})",
      R"({"what":"heat-applied","piece":2,"source":"lamp","surface_c":55.5,"minutes":2.25,"zone":"recess","area_m2":0.5,"tool_w":1600})",
      R"({"what":"lamp","vehicle":1,"on":true,"heat_w_m2":350,"piece":2,"zone":"edge","area_m2":0.5,"tool_w":1500})",
      R"({"what":"refitted","piece":2})",
      R"({"what":"released","vehicle":1,"advised":"recess still moist:\nno jet wash"})",
      R"({"what":"rechecked","piece":2,"finding":"lifting","zone":"recess"})",
      R"({"what":"superseded","event":2})",
      R"({"what":"acknowledged","alert":"bay-cold/front"})",
      R"({"what":"note","vehicle":1,"note":"umlaut \u00fc, tab \t"})",
      R"({"what":"forgotten","vehicle":1})",
      R"({"what":"planned","vehicle":1,"pieces":[{"panel":"bonnet"},{"panel":"sill","part":2,"parts":2}]})",
      R"({"what":"sensor-assigned","sensor":"bench","bay":"front","model":"m","place":"by the door","tolerance_pct":3,"reads":[{"topic":"a/+/t","quantity":"air-temperature","unit":"F","slope":1.5,"offset":-2},{"topic":"a/h","pointer":"/x/1","quantity":"relative-humidity","unit":"fraction","time_pointer":"/at"}]})",
      R"({"what":"sensor-retired","sensor":"bench"})",
      R"({"what":"sensor-check-started","sensor":"bench","salt":"MgCl2"})",
      R"({"what":"sensor-check-ended","sensor":"bench"})",
      R"({"what":"sensor-checked","sensor":"bench","salt":"NaCl","temperature_c":20.5,"expected_pct":75.5,"expected_expanded_pct":1.1,"shown_pct":78.25,"spread_pct":0.2,"tolerance_pct":2,"readings":60,"steady_since":"2026-03-01T08:00:00Z","verdict":"off","slope":1,"offset":-2.75})",
      R"({"what":"sensor-corrected","sensor":"bench","quantity":"relative-humidity","slope":1.25,"offset":-3})",
      R"({"what":"coupon-laid","film":"open","lot":"L7","bay":"front","area_m2":0.0625,"water_grams":0.75})",
      R"({"what":"coupon-weighed","coupon":3,"grams":412.25})",
      R"({"what":"film-measured","film":"open","lot":"L7","resistance":4.5e9,"relative_uncertainty":0.125,"coupon":3,"weighings":9,"tail":[{"spread":0.4,"break_up_g_m2":0.5,"likelihood":1},{"spread":0.8,"break_up_g_m2":0.5,"likelihood":0.125}]})",
      R"({"what":"not-needed","piece":2,"which":"trim-ready","needed":true})",
      R"({"what":"learn-anew","since":"2026-03-01T00:00:00.000Z"})",
      R"({"what":"plate-laid","film":"open","lot":"L7","bay":"front","solution":"slip","wetness":"wet","strips":["edge","field"]})",
      R"({"what":"plate-seen","plate":3,"zone":"recess","sign":"tenth-wet","course":{"drunk_g_m2":[0.25,1.5],"front_mm2":12.125}})",
      R"({"what":"bond-coupon-laid","film":"open","lot":"L7","bay":"front","solution":"slip"})",
      R"({"what":"bond-coupon-pulled","coupon":3,"peel":8.25})",
      R"({"what":"bond-measured","film":"open","lot":"L7","coupon":3,"strips":[{"wlf_h":1,"arrhenius_h":1.5,"peel":8.25},{"wlf_h":72,"arrhenius_h":80,"peel":14}]})"};
  REQUIRE(events.size() == event_names.size());
  std::set<std::size_t> kinds;
  for (const auto& json : events) {
    CAPTURE(json);
    const Event event = parsed(json);
    kinds.insert(event.detail.index());
    const std::string written = to_json(event);
    CAPTURE(written);
    const Event again = parsed(written);
    CHECK(again.at == event.at);
    CHECK(again.note == event.note);
    CHECK(to_json(again) == written);
    CHECK(again.detail.index() == event.detail.index());
    CHECK(written.find('\n') == std::string::npos);
  }
  CHECK(kinds.size() == event_names.size());
  const auto heat = std::get<HeatApplied>(parsed(to_json(parsed(events[9]))).detail);
  CHECK(heat.source == HeatSource::lamp);
  CHECK(heat.surface_c == 55.5);
  CHECK(heat.minutes == 2.25);
  CHECK(heat.zone == models::ZoneKind::recess);
  CHECK(heat.area_m2 == 0.5);
  CHECK(heat.tool_w == 1600.0);
  const auto in = std::get<VehicleIn>(parsed(to_json(parsed(events[0]))).detail);
  CHECK(in.reference == "grey van \"7\"");
  CHECK(in.panel_c == -3.5);
  CHECK(in.hand_over == parse_rfc3339("2026-03-04T17:00:00Z").value());
  CHECK(std::get<Released>(parsed(to_json(parsed(events[12]))).detail).advised ==
        "recess still moist:\nno jet wash");
}

TEST_CASE(
    "a look at a plate keeps its course; without air there is none, and the edge and a recess are the usual "
    "strips") {
  const auto seen = std::get<PlateSeen>(
      parsed(
          R"({"what":"plate-seen","plate":3,"zone":"edge","sign":"half-wet","course":{"drunk_g_m2":[2.345678,0.000001],"front_mm2":3.5}})")
          .detail);
  REQUIRE(seen.course);
  CHECK(seen.course->drunk_g_m2 == std::vector{2.345678, 0.000001});
  CHECK(seen.course->front_mm2 == 3.5);
  CHECK_FALSE(
      std::get<PlateSeen>(parsed(R"({"what":"plate-seen","plate":3,"zone":"edge","sign":"half-wet"})").detail)
          .course);
  const auto laid =
      std::get<PlateLaid>(parsed(R"({"what":"plate-laid","film":"open","bay":"front"})").detail);
  CHECK(strips_of(laid) == std::vector{models::ZoneKind::edge, models::ZoneKind::recess});
}

TEST_CASE("a heating of before its tool was told was that of a usual one, along the edges") {
  const auto heat = std::get<HeatApplied>(
      parsed(R"({"what":"heat-applied","piece":2,"source":"heat-gun","surface_c":60,"minutes":3})").detail);
  CHECK_FALSE(heat.zone);
  CHECK(heat.area_m2 == 0.0);
  CHECK(heat.tool_w == 2000.0);
}

TEST_CASE("a lamp of before pieces could be lit by themselves was on the whole vehicle") {
  const auto lamp =
      std::get<LampSwitched>(parsed(R"({"what":"lamp","vehicle":1,"on":true,"heat_w_m2":350})").detail);
  CHECK_FALSE(lamp.piece);
  CHECK_FALSE(lamp.zone);
  CHECK(lamp.area_m2 == 0.0);
  CHECK(lamp.tool_w == 0.0);
}

TEST_CASE("a film that was measured before coupons were weighed to their end has none") {
  const std::string film =
      R"({"what":"film-measured","film":"open","resistance":4e9,"relative_uncertainty":0.1)";
  CHECK(std::get<FilmMeasured>(parsed(film + "}").detail).tail.empty());
  const auto points = std::get<FilmMeasured>(
      parsed(to_json(parsed(film + R"(,"tail":[{"spread":0.4,"break_up_g_m2":0.5,"likelihood":0.25}]})")))
          .detail);
  CHECK(points.tail == std::vector<TailPoint>{{0.4, 0.5, 0.25}});
  check_refused(film + R"(,"tail":[{"spread":0.4,"break_up_g_m2":0.5}]})", "/tail/0/likelihood", "missing");
  check_refused(film + R"(,"tail":[{"spread":9,"break_up_g_m2":0.5,"likelihood":1}]})", "/tail/0/spread");
}

TEST_CASE("what strips showed keeps every strip; a strip takes something") {
  const auto measured = std::get<BondMeasured>(
      parsed(
          to_json(parsed(
              R"({"what":"bond-measured","film":"open","strips":[{"wlf_h":1,"arrhenius_h":1.5,"peel":8.25}]})")))
          .detail);
  CHECK(measured.strips == std::vector<BondStrip>{{1.0, 1.5, 8.25}});
  CHECK_FALSE(measured.coupon);
  check_refused(R"({"what":"bond-coupon-pulled","coupon":3,"peel":0})", "/peel");
  check_refused(R"({"what":"bond-measured","film":"open"})", "/strips", "missing");
}

TEST_CASE("a step that is not needed is named; that it is needed after all is said") {
  const auto off = parsed(R"({"what":"not-needed","piece":2,"which":"wrap-ready"})");
  CHECK(std::get<NotNeeded>(off.detail).which == models::Milestone::wrap_ready);
  CHECK_FALSE(std::get<NotNeeded>(off.detail).needed);
  const auto on = parsed(R"({"what":"not-needed","piece":2,"which":"refit-ready","needed":true})");
  CHECK(std::get<NotNeeded>(parsed(to_json(on)).detail).needed);
  CHECK(std::get<NotNeeded>(parsed(to_json(on)).detail).which == models::Milestone::refit_ready);
  check_refused(R"({"what":"not-needed","piece":2})", "/which", "missing");
  check_refused(R"({"what":"not-needed","piece":2,"which":"dry"})", "/which", "wrap-ready");
}

TEST_CASE("a plan's pieces keep their order and their parts") {
  const auto planned = std::get<Planned>(
      parsed(
          to_json(parsed(
              R"({"what":"planned","vehicle":1,"pieces":[{"panel":"sill","part":2,"parts":2},{"panel":"bonnet"}]})")))
          .detail);
  CHECK(planned.pieces == std::vector<PlannedPiece>{{"sill", 2, 2}, {"bonnet", 1, 1}});
  CHECK(std::get<Planned>(parsed(R"({"what":"planned","vehicle":1,"pieces":[]})").detail).pieces.empty());
  check_refused(R"({"what":"planned","vehicle":1})", "/pieces", "missing");
  check_refused(R"({"what":"planned","vehicle":1,"pieces":"bonnet"})", "/pieces", "list");
  check_refused(R"({"what":"planned","vehicle":1,"pieces":["bonnet"]})", "/pieces/0");
  check_refused(R"({"what":"planned","vehicle":1,"pieces":[{"panel":"bonnet"},{"part":1}]})",
                "/pieces/1/panel", "missing");
  check_refused(R"({"what":"planned","vehicle":1,"pieces":[{"panel":"bonnet","film":"x"}]})",
                "/pieces/0/film");
}

TEST_CASE("a sensor that is set up keeps every field of every read") {
  const std::string json =
      R"({"what":"sensor-assigned","sensor":"bench","bay":"front","reads":[{"topic":"a/h","pointer":"/x/1",)"
      R"("quantity":"relative-humidity","unit":"fraction","slope":1.5,"offset":-2,"time_pointer":"/at"}]})";
  const auto assigned = std::get<SensorAssigned>(parsed(to_json(parsed(json))).detail);
  REQUIRE(assigned.reads.size() == 1);
  CHECK(assigned.reads[0] ==
        SensorRead{"a/h", "/x/1", Quantity::relative_humidity, Unit::fraction, 1.5, -2.0, "/at"});
  CHECK(assigned.tolerance_pct == 2.0);
  const auto wrong = [](const std::string& read) {
    return R"({"what":"sensor-assigned","sensor":"bench","bay":"front","reads":[)" + read + "]}";
  };
  check_refused(wrong(""), "/reads", "1 to 4");
  check_refused(wrong("7"), "/reads/0", "object");
  check_refused(wrong(R"({"topic":"a","quantity":"dust","unit":"C"})"), "/reads/0/quantity");
  check_refused(wrong(R"({"quantity":"air-temperature","unit":"C"})"), "/reads/0/topic", "missing");
  check_refused(wrong(R"({"topic":"a","quantity":"air-temperature","unit":"C","colour":1})"),
                "/reads/0/colour", "no such field");
}

TEST_CASE("an event that has its number shows it, and cannot be sent again") {
  Event event = parsed(R"({"what":"trimmed","piece":2})");
  event.seq = 12;
  const std::string written = to_json(event);
  CHECK(written.find(R"("seq":12)") != std::string::npos);
  CHECK(written.find(R"("entered":"2026-03-01T20:00:00.000Z")") != std::string::npos);
  CHECK_FALSE(parse_event(written, entered).has_value());
}

TEST_CASE("what is wrong is named by its field") {
  check_refused("", "", "not JSON");
  check_refused("[]", "", "object");
  check_refused("{}", "/what");
  check_refused(R"({"what":"dance"})", "/what", "vehicle-in");
  check_refused(R"({"what":7})", "/what");
  check_refused(R"({"what":"trimmed"})", "/piece", "missing");
  check_refused(R"({"what":"trimmed","piece":"2"})", "/piece", "number");
  check_refused(R"({"what":"trimmed","piece":0})", "/piece");
  check_refused(R"({"what":"trimmed","piece":2.5})", "/piece");
  check_refused(R"({"what":"trimmed","piece":2,"panel":"bonnet"})", "/panel", "no such field");
  check_refused(R"({"what":"trimmed","piece":2,"a/b~":1})", "/a~1b~0", "no such field");
  check_refused(R"({"what":"trimmed","piece":2,"at":"yesterday"})", "/at");
  check_refused(R"({"what":"trimmed","piece":2,"at":1772395170})", "/at", "RFC 3339");
  check_refused(R"({"what":"trimmed","piece":2,"who":7})", "/who", "text");
  check_refused(R"({"what":"inspected","piece":2,"zone":"middle","finding":"wet"})", "/zone", "recess");
  check_refused(R"({"what":"rechecked","piece":2,"finding":"lifting","zone":"corner"})", "/zone", "recess");
  check_refused(R"({"what":"heat-applied","piece":2,"surface_c":900,"minutes":1})", "/surface_c",
                "from 0 to 150");
  check_refused(R"({"what":"heat-applied","piece":2,"surface_c":1e400,"minutes":1})", "/surface_c");
  const std::string heated = R"({"what":"heat-applied","piece":2,"surface_c":60,"minutes":1,)";
  check_refused(heated + R"("area_m2":10.5})", "/area_m2", "from 0 to 10");
  check_refused(heated + R"("tool_w":5001})", "/tool_w", "from 100 to 5000");
  check_refused(heated + R"("tool_w":99})", "/tool_w", "from 100 to 5000");
  check_refused(heated + R"("zone":"roof"})", "/zone", "recess");
  check_refused(R"({"what":"lamp","vehicle":1,"on":"yes"})", "/on", "true or false");
  check_refused(R"({"what":"lay","vehicle":1,"panel":"bonnet","part":1.5})", "/part", "whole");
  check_refused(R"({"what":"lay","vehicle":1,"panel":"bonnet","part":1e12})", "/part");
  check_refused(R"({"what":"lay","vehicle":1,"panel":"bonnet","zones":"field"})", "/zones", "list");
  check_refused(R"({"what":"lay","vehicle":1,"panel":"bonnet","zones":["roof"]})", "/zones/0");
  check_refused(R"({"what":"lay","vehicle":1,"panel":")" + std::string(3000, 'x') + "\"}", "/panel",
                "longer");
}
