// What vehicles have taught counts for good: after they have left, and after a restart without their air.
#include <doctest/doctest.h>

#include <algorithm>

#include "ingest/decode.hpp"
#include "nights/night.hpp"

using namespace dryclock;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

// A vehicle whose bonnet was looked at and wrapped has left; another one stands in the bay.
struct Shop {
  Night night{"2026-03-02 08:00"};
  VehicleId van = 0, estate = 0;
  PieceId bonnet = 0, lid = 0;
  Seq wet = 0, released = 0;
  Time estate_came;

  Shop() {
    night.keeps_lessons();
    night.leaves_outlooks();
    night.air_is("front", 21.0, 50.0);
    night.sends_every("front", minutes{1});
    night.passes_to("09:00");
    van = night.arrives("grey-van", "front");
    bonnet = night.lays(van, "bonnet");
    night.passes_to("15:00");
    night.does(Inspected{bonnet, models::ZoneKind::field, models::Finding::hazy});
    night.passes_to("18:00");
    wet = night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::wet});
    night.passes_to("2026-03-03 08:00");
    night.does(Inspected{bonnet, models::ZoneKind::edge, models::Finding::clear});
    night.passes_to("08:30");
    night.does(EdgeWrapped{bonnet});
    night.passes_to("12:00");
    released = night.does(Released{van, ""});
    night.passes_to("13:00");
    estate_came = night.now();
    estate = night.arrives("blue-estate", "front");
    lid = night.lays(estate, "bonnet");
    night.passes_to("17:00");
    night.does(Inspected{lid, models::ZoneKind::edge, models::Finding::hazy});
    night.passes_to("18:00");
  }
  [[nodiscard]] LearnedView learned() { return night.engine().learned(); }
  // By an engine that has all events and what was learnt, and of the air what came since `from`.
  [[nodiscard]] LearnedView again(Time from) const {
    engine::Engine engine{night.setup()};
    for (const auto& row : night.rows()) {
      if (row.kind != RowKind::message || row.message.received_at >= from) {
        engine.apply(row, ingest::decode(row, engine.mappings()));
      }
    }
    engine.advance(night.now());
    return engine.learned();
  }
  [[nodiscard]] std::ptrdiff_t rows() const {
    return std::ranges::count(night.rows(), RowKind::learnt, &JournalRow::kind);
  }
};

}  // namespace

TEST_CASE("what a vehicle taught is a row once it has left, and the same to the bit without its air") {
  Shop shop;
  CHECK(shop.rows() == 1);
  const auto lived = shop.learned();
  CHECK(lived.pieces == 2);
  CHECK(lived.looks == 5);  // three at the bonnet, that its edge held, one at the other
  CHECK(bool{shop.again(Time{}) == lived});
  CHECK(bool{shop.again(shop.estate_came - hours{1}) == lived});
  // Without the row it is forgotten.
  engine::Engine forgetful{shop.night.setup()};
  for (const auto& row : shop.night.rows()) {
    if (row.kind != RowKind::learnt &&
        (row.kind != RowKind::message || row.message.received_at >= shop.estate_came - hours{1})) {
      forgetful.apply(row, ingest::decode(row, forgetful.mappings()));
    }
  }
  forgetful.advance(shop.night.now());
  CHECK_FALSE(bool{forgetful.learned() == lived});
}

TEST_CASE("a look that is taken back after the vehicle has left no longer counts") {
  Shop shop;
  const auto before = shop.learned();
  shop.night.does(Superseded{shop.wet});
  const auto after = shop.learned();
  CHECK(after.looks == before.looks - 1);
  CHECK(after.water.likely < before.water.likely);  // it had been wet
  CHECK(bool{shop.again(shop.estate_came - hours{1}) == after});
}

TEST_CASE("an edge that lifts weeks later was wetter than was thought") {
  Shop shop;
  const auto before = shop.learned();
  shop.night.does(Rechecked{shop.bonnet, RecheckFinding::lifting, models::ZoneKind::edge});
  const auto lifted = shop.learned();
  CHECK(lifted.looks == before.looks);
  CHECK(lifted.water.likely > before.water.likely);
  CHECK(bool{shop.again(shop.estate_came - hours{1}) == lifted});
}

TEST_CASE("a release that is taken back takes the row with it; another one has its own") {
  Shop shop;
  shop.night.does(Superseded{shop.released});
  CHECK(shop.learned().looks == 4);  // it is here again: nobody knows yet whether its edge holds
  shop.night.does(Released{shop.van, ""});
  shop.night.passes_to("19:00");
  CHECK(shop.rows() == 2);
  CHECK(shop.learned().looks == 5);
}

TEST_CASE("learning anew lets go of what was seen before, until it is taken back") {
  Shop shop;
  const auto before = shop.learned();
  const Seq anew = shop.night.does(LearnAnew{shop.estate_came});
  const auto after = shop.learned();
  CHECK(after.since == shop.estate_came);
  CHECK(after.looks == 1);
  CHECK(after.pieces == 1);
  CHECK(bool{shop.again(shop.estate_came - hours{1}) == after});
  CHECK(shop.night.objection(LearnAnew{shop.night.now() + hours{1}}).find("/since") == 0);
  shop.night.does(Superseded{anew});
  CHECK(bool{shop.learned() == before});
}

TEST_CASE("nothing is learnt from a vehicle that nothing was seen of") {
  Night night{"2026-03-02 08:00"};
  night.keeps_lessons();
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  const auto van = night.arrives("grey-van", "front");
  night.lays(van, "bonnet");
  night.passes_to("12:00");
  night.does(Released{van, ""});
  night.passes_to("14:00");
  CHECK(std::ranges::count(night.rows(), RowKind::learnt, &JournalRow::kind) == 0);
  const auto learned = night.engine().learned();
  CHECK(learned.looks == 0);
  CHECK(learned.films.empty());
  CHECK(learned.water.likely == doctest::Approx(1.0).epsilon(1e-6));
}

TEST_CASE(
    "what was measured is another film to the belief: its own looks count for it, the hands' for both") {
  Shop shop;
  FilmMeasured measured;
  measured.film = "baseline";
  measured.lot = "L7";
  measured.resistance = 9e9;
  measured.relative_uncertainty = 0.12;
  const Seq row = shop.night.does(measured);
  Lay lay;
  lay.vehicle = shop.estate;
  lay.panel = "bumper";
  lay.film = "baseline";
  lay.lot = "L7";
  const PieceId bumper = shop.night.does(lay);
  shop.night.passes_to("23:00");
  shop.night.does(Inspected{bumper, models::ZoneKind::edge, models::Finding::wet});
  const auto films = shop.learned().films;
  REQUIRE(films.size() == 2);
  CHECK(films[0].measurement == 0);
  CHECK(films[1].measurement == row);
  CHECK(films[1].looks == 1);
  // A standard deviation of 0.12 of ln R, most of it common to the film's pieces.
  CHECK(films[1].resistance.high / films[1].resistance.low <
        films[0].resistance.high / films[0].resistance.low);
}
