#include "engine/plate_registry.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "engine/piece_spec.hpp"
#include "models/piece_reach.hpp"
#include "support/small_shop.hpp"

using namespace dryclock;
using engine::Bays;
using engine::PlateRegistry;
using engine::Shop;
using models::ZoneKind;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

const Time nine = parse_rfc3339("2026-03-02T09:00:00Z").value();

// A shop where nothing but plates is told of. The front bay is at 21 C and 50 %RH from eight until `until`.
class PlateBench {
 public:
  explicit PlateBench(Time until) {
    for (Time t = nine - hours{1}; t <= until; t += minutes{5}) {
      hears(Quantity::air_temperature, t, 21.0);
      hears(Quantity::relative_humidity, t, 50.0);
    }
    std::vector<GapRow> gaps;
    bays_.find("front")->close_minutes(until, gaps);
  }

  Seq takes(EventDetail detail, Time at) {
    Event event;
    event.seq = ++rows_;
    event.at = event.entered = at;
    event.detail = std::move(detail);
    shop_.apply(event, bays_);
    plates_.rebuild(shop_);
    return event.seq;
  }
  Seq lays(std::vector<ZoneKind> strips = {}, const std::string& bay = "front") {
    return takes(PlateLaid{"open", "L7", bay, "", models::Wetness::wet, std::move(strips)}, nine);
  }
  // With a course that nothing worked out.
  Seq sees(Seq plate, ZoneKind zone, PlateSign sign, Millis after, double drunk = 1.5) {
    PlateSeen seen{plate, zone, sign};
    seen.course = PlateCourse{std::vector<double>(models::members, drunk), 2.5};
    return takes(seen, nine + after);
  }
  [[nodiscard]] std::vector<PlateView> views(Time now) {
    plates_.integrate(now, bays_);
    return plates_.views(now, belief_);
  }

  PlateRegistry& plates() { return plates_; }
  Shop& shop() { return shop_; }
  Bays& bays() { return bays_; }
  [[nodiscard]] const models::ShopBelief& belief() const { return *belief_; }

 private:
  void hears(Quantity quantity, Time at, double value) {
    bays_.find("front")->add({"probe", "front", quantity, at, true, value, value, false, false});
  }

  Setup setup_ = support::small_shop();
  Shop shop_{setup_};
  Bays bays_{setup_};
  PlateRegistry plates_;
  std::shared_ptr<const models::ShopBelief> belief_ =
      std::make_shared<const models::ShopBelief>(models::ShopLevels{});
  Seq rows_ = 0;
};

}  // namespace

TEST_CASE("what was seen becomes evidence: strip by strip, in order of time, with what the film had drunk") {
  PlateBench bench{nine};
  CHECK(bench.plates().lessons().empty());
  const Seq plate = bench.lays({ZoneKind::recess, ZoneKind::edge});
  CHECK(bench.plates().lessons().empty());
  bench.sees(plate, ZoneKind::edge, PlateSign::tenth_wet, hours{6}, 4.0);
  bench.sees(plate, ZoneKind::edge, PlateSign::mostly_wet, hours{1});  // told late
  bench.sees(plate, ZoneKind::recess, PlateSign::half_wet, hours{5});
  REQUIRE(bench.plates().lessons().size() == 1);
  const auto& lesson = bench.plates().lessons().front();
  CHECK(lesson.piece == plate);
  CHECK(lesson.film == "open");
  CHECK(lesson.measurement == 0);
  CHECK(lesson.kinds == std::vector{ZoneKind::recess, ZoneKind::edge});
  const auto& zones = lesson.evidence.zones;
  REQUIRE(zones.size() == 2);
  CHECK(zones[0].usual == 11.0);  // of the small shop: left wet, a recess
  CHECK(zones[1].usual == 6.5);
  CHECK(zones[0].margin.width == 0.0);
  CHECK(zones[1].margin.width == 0.005);
  REQUIRE(zones[0].seen.size() == 1);
  CHECK(zones[0].seen[0].sign == models::Sign::half_wet);
  REQUIRE(zones[1].seen.size() == 2);
  CHECK(zones[1].seen[0].sign == models::Sign::mostly_wet);
  CHECK(zones[1].seen[0].seconds == 3600.0);
  CHECK(zones[1].seen[1].sign == models::Sign::tenth_wet);
  CHECK(zones[1].seen[1].drunk[3] == 4.0);
  CHECK(zones[1].seen[1].front_squared == doctest::Approx(2.5e-6).scale(0.0));  // of 2.5 mm2, in m2
}

TEST_CASE("within ten minutes a look replaces the one before; one without a course says nothing") {
  const auto looks = [](Millis between, bool with_course) {
    PlateBench bench{nine};
    const Seq plate = bench.lays();
    bench.sees(plate, ZoneKind::edge, PlateSign::half_wet, hours{4});
    if (with_course) {
      bench.sees(plate, ZoneKind::edge, PlateSign::tenth_wet, hours{4} + between);
    } else {
      bench.takes(PlateSeen{plate, ZoneKind::edge, PlateSign::tenth_wet}, nine + hours{4} + between);
    }
    const auto& seen = bench.plates().lessons().at(0).evidence.zones.at(0).seen;
    return std::pair{seen.size(), seen.back().sign};
  };
  CHECK(bool{looks(minutes{9}, true) == std::pair{std::size_t{1}, models::Sign::tenth_wet}});
  CHECK(bool{looks(minutes{11}, true) == std::pair{std::size_t{2}, models::Sign::tenth_wet}});
  CHECK(bool{looks(minutes{9}, false) == std::pair{std::size_t{1}, models::Sign::half_wet}});
}

TEST_CASE("what was taken back is gone, a plate with all of its looks") {
  PlateBench bench{nine};
  const Seq plate = bench.lays();
  const Seq wrong = bench.sees(plate, ZoneKind::edge, PlateSign::none_wet, hours{4});
  bench.takes(Superseded{wrong}, nine + hours{5});
  CHECK(bench.plates().lessons().empty());
  bench.sees(plate, ZoneKind::edge, PlateSign::none_wet, hours{6});
  bench.sees(plate, ZoneKind::recess, PlateSign::none_wet, hours{6});
  CHECK(bench.plates().known_films() == std::set<std::string>{"open"});
  bench.takes(Superseded{plate}, nine + hours{7});
  CHECK(bench.plates().empty());
  CHECK(bench.plates().known_films().empty());
}

TEST_CASE("the chances are those of the shop's belief for such film on a clear plate") {
  const Time later = nine + hours{10};
  PlateBench bench{later};
  const Seq id = bench.lays();
  const auto view = bench.views(later).at(0);
  REQUIRE(view.zones.size() == 2);
  // The same film once more, by the models: at the air's temperature from lay on.
  Lay lay;
  lay.film = "open";
  lay.solution = "slip";
  lay.wetness = models::Wetness::wet;
  lay.zones = {ZoneKind::edge, ZoneKind::recess};
  auto spec = engine::laid_spec(lay, nine, bench.shop().catalogue(), bench.shop().measures());
  const models::Surroundings air{models::Celsius{21.0}, models::Humidity{0.5}};
  models::LaidPiece piece{spec, air};
  for (int minute = 0; minute < 600; ++minute) {
    piece.advance(air, air, models::Seconds{60.0});
  }
  models::PieceReach reach{piece, models::Thresholds{.gone_wet = 0.1, .clear_wet = 0.03},
                           bench.belief().levels("open")};
  const auto nodes = bench.belief().nodes("open");
  const auto now = piece.trace(0).size() - 1;
  for (std::size_t zone = 0; zone < 2; ++zone) {
    const auto& strip = view.zones[zone];
    CHECK(*strip.tenth_chance ==
          doctest::Approx(reach.zone_chance(models::Milestone::liquid_gone, zone, now, nodes)).epsilon(1e-6));
    CHECK(*strip.clear_chance ==
          doctest::Approx(reach.zone_chance(models::Milestone::clear, zone, now, nodes)).epsilon(1e-6));
    CHECK(*strip.tenth_chance > *strip.clear_chance);
  }
  CHECK(view.id == id);
}

TEST_CASE("a strip is asked about from an even chance on, and left alone for an hour after a look") {
  const Time last = nine + hours{40};
  PlateBench bench{last};
  const Seq plate = bench.lays({ZoneKind::edge});
  bool before = false;
  for (Time t = nine; t <= last; t += minutes{30}) {
    const auto strip = bench.views(t).at(0).zones.at(0);
    CHECK(strip.look == (*strip.tenth_chance >= 0.5));
    CHECK(bool{!before || strip.look});
    before = strip.look;
  }
  CHECK(before);
  bench.sees(plate, ZoneKind::edge, PlateSign::half_wet, hours{40});
  const auto look_after = [&](Millis pause) { return bench.views(last + pause).at(0).zones.at(0).look; };
  CHECK_FALSE(look_after(minutes{59}));
  CHECK(look_after(minutes{61}));
  // A tenth was seen: what is asked from then on is whether that has gone, too.
  bench.sees(plate, ZoneKind::edge, PlateSign::tenth_wet, hours{42});
  const auto strip = bench.views(last + hours{4}).at(0).zones.at(0);
  CHECK(strip.look == (*strip.clear_chance >= 0.5));
  bench.sees(plate, ZoneKind::edge, PlateSign::none_wet, hours{47});
  CHECK_FALSE(look_after(hours{9}));
}

TEST_CASE("the air beside a plate is needed until it is over; nobody measured: no course and no chance") {
  PlateBench bench{nine};
  CHECK_FALSE(bench.plates().oldest_needed(nine));
  const Seq plate = bench.lays({ZoneKind::edge}, "back");
  CHECK(bench.plates().oldest_needed(nine + hours{1}) == nine);
  CHECK(bench.plates().oldest_needed(nine + longest_plate - minutes{1}) == nine);
  CHECK_FALSE(bench.plates().oldest_needed(nine + longest_plate));
  CHECK_FALSE(
      bench.plates().course({plate, ZoneKind::edge, PlateSign::half_wet}, nine + hours{1}, bench.bays()));
  CHECK_FALSE(bench.views(nine + hours{1}).at(0).zones.at(0).tenth_chance);
  bench.sees(plate, ZoneKind::edge, PlateSign::none_wet, hours{4});
  CHECK_FALSE(bench.plates().oldest_needed(nine + hours{5}));
}
