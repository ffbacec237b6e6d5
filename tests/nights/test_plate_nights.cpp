// Film on a clear plate beside the bay's sensor: when a look is asked for, and what the looks teach.
#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include "ingest/decode.hpp"
#include "models/laid_piece.hpp"
#include "nights/night.hpp"
#include "nights/replay.hpp"

using namespace dryclock;
using models::ZoneKind;
using nights::fingerprint;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

// 21 C and 50 %RH but for a drift that nobody would call stuck.
struct SteadyNight : Night {
  SteadyNight() : Night{"2026-03-02 08:00"} {
    air_is("front", 21.0, 50.0);
    air_drifts("front", 21.2, 49.4, hours{24 * 14});
    sends_every("front", minutes{5});
    passes_to("09:00");
  }
};

Seq lays_plate(Night& night, const std::string& film = "baseline") {
  return night.does(PlateLaid{film, "L7", "front", "", models::Wetness::usual, {}});
}

// Zones that the board asks about in the bay "front".
std::vector<ZoneKind> asked(const Night& night) {
  std::vector<ZoneKind> zones;
  const auto board = night.board();
  for (const auto& ask : board.bays.at(0).to_look) {
    zones.push_back(ask.zone);
  }
  return zones;
}

// Of the newest look.
PlateCourse course(Night& night) {
  const auto events = night.engine().events(0);
  return std::get<PlateSeen>(events.back().detail).course.value();
}

// Looks as a usual shop would have them: 3.5 g/m2 at the edge and 6.5 in the recess leave through this film
// at about 0.8 g/m2 an hour.
void sees_it_dry(Night& night, Seq plate) {
  night.passes_to("13:00");
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::half_wet});
  night.passes_to("17:00");
  night.does(PlateSeen{plate, ZoneKind::recess, PlateSign::half_wet});
  night.passes_to("2026-03-03 15:00");
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::none_wet});
  night.does(PlateSeen{plate, ZoneKind::recess, PlateSign::none_wet});
}

}  // namespace

TEST_CASE("a look is asked for once it may well be a tenth, and no more once the strip was seen clear") {
  SteadyNight night;
  const Seq plate = lays_plate(night);
  night.passes_to("10:00");
  CHECK(asked(night).empty());
  CHECK(night.engine().plates().at(0).what.key == "plates.look-later");
  // The usual water would be gone after 8 h; what is left of it then lies where it was thickest.
  night.passes_to("2026-03-03 15:00");
  CHECK(asked(night) == std::vector{ZoneKind::edge, ZoneKind::recess});
  CHECK(night.board().bays.at(0).to_look.at(0).plate == plate);
  CHECK(night.engine().plates().at(0).what.key == "plates.look-now");
  CHECK(night.board().bays.at(1).to_look.empty());
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::tenth_wet});
  CHECK(asked(night) == std::vector{ZoneKind::recess});  // somebody has just looked at the other
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::none_wet});
  night.does(PlateSeen{plate, ZoneKind::recess, PlateSign::none_wet});
  CHECK(asked(night).empty());
  night.passes_to("2026-03-03 18:00");
  CHECK(asked(night).empty());
  const auto view = night.engine().plates().at(0);
  CHECK(view.over);
  CHECK(view.known);
  CHECK(view.seen.size() == 3);
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

TEST_CASE("a look keeps what the film had drunk by then, and late or in time it is the same") {
  SteadyNight night;
  const Seq plate = lays_plate(night);
  night.passes_to("17:00");
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::half_wet});
  const auto eight = course(night);
  night.passes_to("21:00");
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::tenth_wet});
  const auto twelve = course(night);
  REQUIRE(twelve.drunk_g_m2.size() == models::members);
  // Steady by then: 1243.7 Pa (half of 2487 Pa at 21 C, handbook) through the sheets of the small shop's
  // film, thickness over permeability, and the air layer of 2.3e-3 m/s, 461.5 J/(kg K) x 294.15 K / h_m.
  const double sheets = 40e-6 / 3e-14 + 150e-6 / 5e-14 + 10e-6 / 1e-14;
  for (const std::size_t lane : {std::size_t{2}, std::size_t{3}, std::size_t{4}}) {
    const double resistance = sheets * std::exp(models::lane_log_factors()[lane]) + 461.5 * 294.15 / 2.3e-3;
    const double grams = 1243.7 / resistance * 4.0 * 3600.0 * 1000.0;
    CHECK(twelve.drunk_g_m2[lane] - eight.drunk_g_m2[lane] == doctest::Approx(grams).epsilon(0.02));
  }
  CHECK(twelve.front_mm2 > eight.front_mm2);
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::half_wet}, "2026-03-02 17:00");
  for (std::size_t lane = 0; lane < models::members; ++lane) {
    CHECK(course(night).drunk_g_m2[lane] == doctest::Approx(eight.drunk_g_m2[lane]).epsilon(1e-4));
  }
}

TEST_CASE("what a plate has taught stays when its air is no longer read") {
  SteadyNight night;
  const Seq plate = lays_plate(night);
  sees_it_dry(night, plate);
  night.passes_to("2026-03-06 08:00");
  const Seq before = night.rows().back().seq;
  night.passes_to("2026-03-06 12:00");
  const auto piece = night.lays(night.arrives("grey-van", "front"), "bonnet");
  night.passes_to("2026-03-06 14:00");
  const auto edge = [&](const engine::Engine& engine) {
    return engine.history(piece, minutes{10}).value().back().zones.at(1).water;
  };
  // As a start reads it: of what lies before the oldest vehicle, settings and the shop's events alone.
  engine::Engine started{night.setup()};
  for (const auto& row : night.rows()) {
    if (row.seq > before || row.kind == RowKind::event) {
      started.apply(row, ingest::decode(row, started.mappings()));
    }
  }
  started.advance(night.now());
  const auto water = edge(night.engine());
  CHECK(edge(started).low == water.low);
  CHECK(edge(started).likely == water.likely);
  CHECK(edge(started).high == water.high);
  CHECK(started.plates().at(0).known);

  // Without those looks less was known of the same piece.
  SteadyNight alone;
  alone.passes_to("2026-03-06 12:00");
  const auto other = alone.lays(alone.arrives("grey-van", "front"), "bonnet");
  alone.passes_to("2026-03-06 14:00");
  const auto blank = alone.engine().history(other, minutes{10}).value().back().zones.at(1).water;
  CHECK(water.high - water.low < blank.high - blank.low);
}

TEST_CASE("a film is known by a plate seen to its end, or by five looks; of another film nothing is known") {
  const auto knows = [](Night& night) { return night.engine().plates().at(0).known; };
  SteadyNight five;
  const Seq plate = lays_plate(five);
  for (int look = 1; look <= 5; ++look) {
    five.passes_to(five.now() + hours{1});
    CHECK_FALSE(knows(five));
    five.does(PlateSeen{plate, ZoneKind::edge, PlateSign::half_wet});
    five.does(PlateSeen{plate, ZoneKind::edge, PlateSign::half_wet});  // within ten minutes: one look
  }
  CHECK(knows(five));
  CHECK_FALSE(five.engine().plates().at(0).over);
  CHECK(five.engine().plates().at(0).what.key == "plates.known-so-far");

  Night unmeasured{"2026-03-02 08:00"};  // nobody knows the air: the looks say nothing
  const Seq blind = lays_plate(unmeasured);
  unmeasured.passes_to("10:00");
  CHECK(unmeasured.engine().plates().at(0).what.key == "plates.no-air");
  unmeasured.does(PlateSeen{blind, ZoneKind::edge, PlateSign::none_wet});
  unmeasured.does(PlateSeen{blind, ZoneKind::recess, PlateSign::none_wet});
  CHECK_FALSE(knows(unmeasured));
  CHECK(unmeasured.engine().plates().at(0).what.key == "plates.no-air");

  SteadyNight night;
  const Seq end = lays_plate(night);
  sees_it_dry(night, end);
  night.leaves_outlooks();
  Lay lay;
  lay.vehicle = night.arrives("grey-van", "front");
  lay.panel = "bonnet";
  lay.film = "baseline";
  night.does(lay);
  night.passes_to(night.now() + minutes{5});
  const auto known = [&] { return night.engine().outlook_tasks().at(0).known_films; };
  CHECK(known() == std::set<std::string>{"baseline"});
  night.does(Superseded{end});  // it was not that film: as if nobody had looked
  CHECK(known().empty());
  CHECK(night.engine().plates().empty());
}

TEST_CASE("after fourteen days a plate is over, and what was seen still counts") {
  SteadyNight night;
  const Seq plate = lays_plate(night, "open");
  night.passes_to("13:00");
  night.does(PlateSeen{plate, ZoneKind::edge, PlateSign::half_wet});
  night.passes_to(night.at("2026-03-16 08:59"));
  CHECK_FALSE(night.engine().plates().at(0).over);
  CHECK(night.objection(PlateSeen{plate, ZoneKind::edge, PlateSign::none_wet}).empty());
  night.passes_to(night.at("2026-03-16 09:00"));
  const auto view = night.engine().plates().at(0);
  CHECK(view.over);
  CHECK_FALSE(view.known);
  CHECK(view.what.key == "plates.given-up");
  CHECK(night.objection(PlateSeen{plate, ZoneKind::edge, PlateSign::none_wet}).starts_with("/at"));
}
