// A coupon weighed beside the bay's sensor, and what its result does to the pieces that are laid after it.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "engine/film_measures.hpp"
#include "nights/night.hpp"
#include "nights/replay.hpp"
#include "support/said.hpp"

using namespace dryclock;
using nights::fingerprint;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;
using support::said;

namespace {

PieceId lays_lot(Night& night, VehicleId vehicle, const std::string& panel, const std::string& lot) {
  Lay lay;
  lay.vehicle = vehicle;
  lay.panel = panel;
  lay.film = "baseline";
  lay.lot = lot;
  return night.does(lay);
}

// What is left under the field, g/m2.
models::Quantiles left(Night& night, PieceId piece) {
  return night.engine().history(piece, minutes{10}).value().back().zones.at(0).water;
}

}  // namespace

TEST_CASE("weighings that survive a restart give the film's resistance") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  const Seq id = night.does(CouponLaid{"baseline", "L7", "front", 0.09, 0.9});
  // At 21 C the saturation pressure is 2487 Pa (handbook steam tables, from memory: 2.487 kPa), so at 50 %RH
  // the water is driven by 1244 Pa. A stack and air layer of R loses A 1244 / R kg a second; with R = 8e9:
  const double grams_per_hour = 0.09 * 1243.7 / 8e9 * 3600.0 * 1000.0;
  for (int hour = 0; hour <= 12; ++hour) {
    night.passes_to(night.at("2026-03-02 09:00") + hours{hour});
    night.does(CouponWeighed{id, 400.0 - grams_per_hour * hour});
  }
  const auto coupons = night.engine().coupons();
  REQUIRE(coupons.size() == 1);
  CHECK(coupons[0].weighings.size() == 13);
  REQUIRE(coupons[0].result);
  const auto result = *coupons[0].result;
  // Without the air layer over it, which models/air_layer.hpp knows: R - 1/(h_m) in pressure terms, 2.3e-3
  // m/s is 5.9e7.
  CHECK(result.resistance == doctest::Approx(8e9 - 5.9e7).epsilon(0.01));
  CHECK(result.weighings >= 4);
  CHECK(result.lot == "L7");
  night.does(result);
  CHECK(night.engine().coupons()[0].measured);
  CHECK(night.engine().measured_films().size() == 1);
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

// The tightest film needs the longest: R = 1e11 loses 0.97 of 1.3 g at 21 C and 50 %RH in ten days.
TEST_CASE("a tight film is weighed for ten days, and after fourteen the plate is given up in words") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{5});
  night.passes_to("09:00");
  const Seq id = night.does(CouponLaid{"baseline", "", "front", 0.09, 1.3});
  const Time laid = night.now();
  const double grams_per_hour = 0.09 * 1243.7 / 1e11 * 3600.0 * 1000.0;
  for (int day = 0; day <= 10; ++day) {
    night.passes_to(laid + hours{24 * day});
    night.does(CouponWeighed{id, 400.0 - grams_per_hour * 24 * day});
    // A value that never moves would be called stuck.
    const double to = day % 2 == 0 ? 0.1 : -0.1;
    night.air_drifts("front", 21.0 + to, 50.0 - 2.0 * to, hours{24});
  }
  const auto weighed = night.engine().coupons()[0];
  CAPTURE(said(weighed.what));
  REQUIRE(weighed.result);
  CHECK(weighed.result->resistance == doctest::Approx(1e11).epsilon(0.02));
  night.air_drifts("front", 21.0, 50.0, hours{24 * 5});
  night.passes_to(laid + hours{24 * 15});
  const auto late = night.engine().coupons()[0];
  CHECK_FALSE(late.result);
  CHECK(said(late.what).find("kept for 14 days") != std::string::npos);
}

TEST_CASE("a coupon beside a sensor that falls silent says so") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const Seq id = night.does(CouponLaid{"baseline", "", "front", 0.09, 0.9});
  for (int hour = 0; hour <= 8; ++hour) {
    night.passes_to(night.at("2026-03-02 08:00") + hours{hour});
    if (hour == 5) {
      night.falls_silent("front");
    }
    night.does(CouponWeighed{id, 400.0 - 0.05 * hour});
  }
  CHECK(said(night.engine().coupons()[0].what).find("its sensor is silent") != std::string::npos);
}

TEST_CASE("a coupon says what it still needs") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const Seq id = night.does(CouponLaid{"baseline", "", "front", 0.09, 0.9});
  CHECK(said(night.engine().coupons()[0].what).find("of 4 weighings count so far") != std::string::npos);
  for (int hour = 0; hour <= 8; ++hour) {
    night.passes_to(night.at("2026-03-02 08:00") + hours{hour});
    night.does(CouponWeighed{id, 400.0});
  }
  night.passes_to("17:00");
  CHECK(said(night.engine().coupons()[0].what).find("has not lost more than the balance can tell") !=
        std::string::npos);
  CHECK_FALSE(night.engine().coupons()[0].result);
}

TEST_CASE("a measured film counts for what is laid after it, and for its lot") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  const auto van = night.arrives("grey-van", "front");
  const auto before = lays_lot(night, van, "bonnet", "L7");
  night.passes_to("10:00");
  const double catalogue = engine::resistance_of(night.setup().catalogue.films[0].stack);
  FilmMeasured measured;
  measured.film = "baseline";
  measured.lot = "L7";
  measured.resistance = 2.0 * catalogue;
  measured.relative_uncertainty = 0.12;
  const double untouched = left(night, before).likely;
  const Seq row = night.does(measured);
  CHECK(left(night, before).likely == untouched);  // it was laid before
  const auto other_lot = lays_lot(night, night.arrives("red-van", "front"), "bonnet", "L8");
  const auto of_lot = lays_lot(night, night.arrives("blue-van", "front"), "bonnet", "L7");
  night.passes_to("11:00");
  // The same panel under the same air: what resists more has drunk less.
  const double usual = left(night, other_lot).likely;
  CHECK(left(night, of_lot).likely > usual);

  // Taken back: as if it had never been, also for what is laid already.
  night.does(Superseded{row});
  CHECK(left(night, of_lot).likely == left(night, other_lot).likely);
  CHECK(night.engine().measured_films().empty());
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

TEST_CASE("told late, a measurement counts from the time it happened") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  const auto van = night.arrives("grey-van", "front");
  const auto piece = lays_lot(night, van, "bonnet", "");
  night.passes_to("10:00");
  const double then = left(night, piece).likely;
  FilmMeasured measured;
  measured.film = "baseline";
  measured.resistance = 2.0 * engine::resistance_of(night.setup().catalogue.films[0].stack);
  night.does(measured, "08:30");
  CHECK(left(night, piece).likely > then);
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
}

TEST_CASE("of a film that was measured, whatever its lot, less is left open") {
  const auto spread = [](bool of_any_lot) {
    Night night{"2026-03-02 08:00"};
    night.air_is("front", 21.0, 50.0);
    night.sends_every("front", minutes{1});
    FilmMeasured measured;
    measured.film = "baseline";
    measured.lot = of_any_lot ? "" : "L7";
    measured.resistance = engine::resistance_of(night.setup().catalogue.films[0].stack);
    measured.relative_uncertainty = 0.12;
    night.does(measured);
    const auto piece = lays_lot(night, night.arrives("grey-van", "front"), "bonnet", "L8");
    night.passes_to("11:00");
    const auto water = left(night, piece);
    return water.high - water.low;
  };
  CHECK(spread(true) < spread(false));
}

// As if the sheet of water had been whole: it goes on at one pace until the last drop, and nothing leaves
// after.
TEST_CASE("a coupon that is weighed to its end says how its water lay") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.passes_to("09:00");
  const Seq id = night.does(CouponLaid{"baseline", "", "front", 0.09, 0.9});
  const double grams_per_hour = 0.09 * 1243.7 / 5.4e9 * 3600.0 * 1000.0;
  const auto weigh_to = [&](int first, int last) {
    for (int hour = first; hour <= last; ++hour) {
      night.passes_to(night.at("2026-03-02 09:00") + hours{hour});
      night.does(CouponWeighed{id, 400.0 - std::min(0.9, grams_per_hour * hour)});
    }
  };
  weigh_to(0, 10);  // only the last of them is of the last quarter: 0.746 of 0.9 g are gone
  REQUIRE(night.engine().coupons()[0].result);
  CHECK(night.engine().coupons()[0].result->tail.empty());
  weigh_to(11, 16);
  const auto coupon = night.engine().coupons()[0];
  REQUIRE(coupon.result);
  REQUIRE(coupon.result->tail.size() == 9);
  const auto& likeliest = *std::ranges::max_element(coupon.result->tail, {}, &TailPoint::likelihood);
  CHECK(likeliest.spread < 0.3);
  CHECK(said(coupon.what).find("Its end says how the water lay") != std::string::npos);
}

TEST_CASE("how a coupon's water lay counts for what is laid already, and is taken back with it") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  const auto piece = lays_lot(night, night.arrives("grey-van", "front"), "bonnet", "");
  night.passes_to("11:00");
  const auto before = left(night, piece);
  FilmMeasured measured;
  measured.film = "open";  // another film's: water lies the same way
  measured.resistance = engine::resistance_of(night.setup().catalogue.films[1].stack);
  measured.tail = {{0.2, 0.5, 0.1}, {0.4, 0.5, 0.1}, {0.8, 0.5, 1.0}};
  const Seq row = night.does(measured);
  CHECK(left(night, piece).high > before.high);  // more is left where much lies thick
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
  night.does(Superseded{row});
  CHECK(left(night, piece).high == before.high);
}

// Strips at 10 C by Arrhenius, 80 kJ/mol: exp(-80000/8.3145 (1/283.15 - 1/293.15)) = 0.3139 of 20 C's pace.
TEST_CASE("strips that are pulled in a cold bay show how fast the film bonds there, and are taken back") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 10.0, 60.0);
  night.sends_every("front", minutes{5});
  night.passes_to("09:00");
  const auto piece = lays_lot(night, night.arrives("grey-van", "front"), "bonnet", "");
  const Seq id = night.does(BondCouponLaid{"open", "", "front", ""});
  CHECK(said(night.engine().bond_coupons()[0].what).find("0 strips have been pulled") != std::string::npos);
  const auto pull_after = [&](double hour) {
    night.passes_to(night.at("2026-03-02 09:00") + minutes{std::lround(hour * 60.0)});
    const double bond = 0.5 + 0.2154 * std::log10(0.3139 * hour * 3600.0 / 1200.0);
    for (int strip = 0; strip < 4; ++strip) {
      night.does(BondCouponPulled{id, 20.0 * bond});
    }
  };
  // A value that never moves would be called stuck.
  const auto drifts = [&](double to) { night.air_drifts("front", 10.0 + to, 60.0 - 2.0 * to, hours{24}); };
  drifts(0.1);
  for (const double hour : {0.5, 1.0, 4.0, 24.0}) {
    pull_after(hour);
  }
  CHECK_FALSE(night.engine().bond_coupons()[0].result);  // the last must lie for three days
  drifts(-0.1);
  night.passes_to(night.at("2026-03-02 09:00") + hours{48});
  drifts(0.1);
  pull_after(72.0);
  const auto coupon = night.engine().bond_coupons()[0];
  CAPTURE(said(coupon.what));
  REQUIRE(coupon.result);
  REQUIRE(coupon.result->strips.size() == 20);
  CHECK(coupon.result->strips.back().arrhenius_h == doctest::Approx(72.0 * 0.3139).epsilon(0.01));
  // 10^(8.442 (-10)/(106.60 - 10)) = 0.1337.
  CHECK(coupon.result->strips.back().wlf_h == doctest::Approx(72.0 * 0.1337).epsilon(0.01));

  const auto bond = [&] {
    return night.engine().history(piece, minutes{10}).value().back().zones.at(0).bond.likely;
  };
  const double before = bond();
  const Seq row = night.does(*coupon.result);
  CHECK(night.engine().bond_coupons()[0].measured);
  CHECK(bond() > before);  // of the two laws the strips speak for that of the faster bond in the cold
  CHECK(bool{nights::replay(night.setup(), night.rows(), night.now()).board == fingerprint(night.engine())});
  night.does(Superseded{row});
  CHECK(bond() == before);
  CHECK_FALSE(night.engine().bond_coupons()[0].measured);
}

TEST_CASE("of several measurements the newest of the lot counts, else the newest of any") {
  engine::FilmMeasures measures;
  const auto setup = support::small_shop();
  const auto& film = setup.catalogue.films[0];
  const Time t0 = parse_rfc3339("2026-03-01T20:00:00Z").value();
  std::vector<Event> events;
  const auto add = [&](Time at, const std::string& lot, double resistance, double uncertainty) {
    FilmMeasured measured;
    measured.film = film.key;
    measured.lot = lot;
    measured.resistance = resistance;
    measured.relative_uncertainty = uncertainty;
    Event event;
    event.seq = static_cast<Seq>(events.size()) + 1;
    event.at = at;
    event.detail = measured;
    events.push_back(event);
  };
  add(t0, "", 1e10, 0.05);
  add(t0 + hours{1}, "A", 2e10, 0.2);
  add(t0 + hours{2}, "", 3e10, 0.2);
  measures.rebuild(events);
  const auto resists = [&](const std::string& lot, Time at) {
    return engine::resistance_of(measures.stack_of(film, lot, at));
  };
  const double catalogue = engine::resistance_of(film.stack);
  CHECK(resists("A", t0 - hours{1}) == doctest::Approx(catalogue));
  CHECK(resists("A", t0) == doctest::Approx(1e10));
  CHECK(resists("A", t0 + hours{3}) == doctest::Approx(2e10));
  CHECK(resists("B", t0 + hours{1}) == doctest::Approx(1e10));
  CHECK(resists("B", t0 + hours{3}) == doctest::Approx(3e10));
  CHECK(measures.stack_of(film, "B", t0).ln_resistance_spread == 0.12);  // not better than a lot is even
  CHECK(measures.stack_of(film, "A", t0 + hours{3}).ln_resistance_spread == 0.2);
  CHECK(engine::resistance_of(measures.stack_of(setup.catalogue.films[1], "A", t0 + hours{3})) ==
        doctest::Approx(engine::resistance_of(setup.catalogue.films[1].stack)));
}
