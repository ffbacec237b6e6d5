// Settings that change under way: who is told, and of what.
#include <doctest/doctest.h>

#include "nights/night.hpp"
#include "support/said.hpp"

using namespace dryclock;
using nights::Night;
using std::chrono::minutes;
using support::said;

namespace {

// A vehicle with a bonnet on, whose bumper was pulled off again, and one without film.
struct Bay {
  Night night{"2026-03-02 08:00"};
  Setup setup = support::small_shop();

  Bay() {
    night.air_is("front", 21.0, 50.0);
    night.sends_every("front", minutes{1});
    const auto van = night.arrives("grey-van", "front");
    night.arrives("bare-car", "front");
    night.lays(van, "bonnet");
    Lay bumper;
    bumper.vehicle = van;
    bumper.panel = "bumper";
    bumper.film = "open";
    bumper.solution = "tack";
    const auto pulled = night.does(bumper);
    night.passes_to("09:00");
    night.does(PieceRemoved{pulled});
    night.passes_to("10:00");
  }
  // The news of these settings; empty: none.
  std::string news() {
    night.settings_are(setup);
    std::string out;
    for (const auto& alert : night.board().alerts) {
      out += alert.rule == AlertRule::settings_changed ? said(alert.what) : "";
    }
    return out;
  }
};

}  // namespace

TEST_CASE("what changed is what is named, and the pieces that are on are counted") {
  Bay bay;
  auto& catalogue = bay.setup.catalogue;
  const std::string one_piece = " 1 piece is estimated anew, on grey-van.";
  std::string expected;
  SUBCASE("film") {
    catalogue.films[0].stack.layers[1].sorption = 20.0;
    expected = "Changed: film ‘baseline’." + one_piece;
  }
  SUBCASE("solution") {
    catalogue.solutions[0].solution.alcohol_fraction = 0.1;
    expected = "Changed: solution ‘slip’." + one_piece;
  }
  SUBCASE("a panel that is not the slowest") {
    catalogue.panels[0].thermal.heat_capacity = 2000.0;
    expected = "Changed: panel ‘bonnet’." + one_piece;
  }
  SUBCASE("a panel's zones") {
    catalogue.panels[0].zones.pop_back();
    expected = "Changed: panel ‘bonnet’." + one_piece;
  }
  SUBCASE("a panel that no piece is on, now the slowest") {
    catalogue.panels[2].thermal.heat_capacity = 9000.0;
    expected = "Changed: the slowest panel." + one_piece;
  }
  SUBCASE("water") {
    catalogue.water[static_cast<std::size_t>(models::ZoneKind::edge)][1] *= 2.0;
    expected = "Changed: the water that the squeegee leaves." + one_piece;
  }
  SUBCASE("thresholds") {
    bay.setup.thresholds.wrap_bond = 0.55;
    expected = "Changed: what counts as ready." + one_piece;
  }
  SUBCASE("what was used on a piece that is off again: no news") {
    catalogue.films[1].stack.layers[1].sorption = 20.0;
    catalogue.solutions[1].solution.alcohol_fraction = 0.3;
  }
  CHECK(bay.news() == expected);
}

TEST_CASE("vehicles without film are no news") {
  Night night{"2026-03-02 08:00"};
  night.air_is("front", 21.0, 50.0);
  night.sends_every("front", minutes{1});
  night.arrives("bare-car", "front");
  night.passes_to("09:00");
  auto setup = support::small_shop();
  setup.thresholds.wrap_bond = 0.55;
  night.settings_are(setup);
  CHECK(night.timeline("settings-changed").empty());
}
