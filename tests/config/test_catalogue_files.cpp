#include "config/catalogue_files.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "support/config_files.hpp"

using namespace dryclock;
using dryclock::test::ScratchFolder;
using dryclock::test::shipped;

namespace {

Catalogue shipped_catalogue() {
  config::Problems problems;
  auto catalogue = config::read_catalogue(shipped(), shipped(), problems);
  CHECK(problems.sorted() == std::vector<Problem>{});
  return catalogue;
}

std::vector<std::string> whats(const config::Problems& problems) {
  std::vector<std::string> list;
  for (const auto& problem : problems.sorted()) {
    list.push_back(problem.what);
  }
  return list;
}

}  // namespace

// Hours for 10 g/m2 at 21 C and 50 %RH by hand: R over the layers plus the air layer's 5.9e7, times the
// water, over half the saturation pressure (2488.1 Pa: Hyland-Wexler, ASHRAE 2017 ch. 1 eq 6).
TEST_CASE("the shipped films' resistances are those of the design's hand calculation") {
  const auto films = shipped_catalogue().films;
  const auto hours = [&](std::string_view key) {
    const auto film = std::find_if(films.begin(), films.end(), [&](const auto& f) { return f.key == key; });
    REQUIRE(film != films.end());
    double resistance = 5.9e7;
    for (const auto& layer : film->stack.layers) {
      resistance += layer.thickness.value() / layer.permeability.value();
    }
    return 0.010 * resistance / (0.5 * 2488.1) / 3600.0;
  };
  CHECK(films.front().key == "baseline");
  CHECK(hours("baseline") == doctest::Approx(12.04).epsilon(5e-4).scale(0.0));
  CHECK(hours("plain") == doctest::Approx(9.8).epsilon(5e-3).scale(0.0));
  CHECK(hours("thick") == doctest::Approx(14.3).epsilon(5e-3).scale(0.0));
  CHECK(hours("breathable") == doctest::Approx(8.1).epsilon(5e-3).scale(0.0));
  CHECK(hours("dense-topcoat") == doctest::Approx(36.6).epsilon(5e-3).scale(0.0));
}

TEST_CASE("the shipped panels' sheets follow the air as handbook values say") {
  const auto panels = shipped_catalogue().panels;
  const auto minutes = [&](std::string_view key) {
    const auto panel =
        std::find_if(panels.begin(), panels.end(), [&](const auto& p) { return p.key == key; });
    REQUIRE(panel != panels.end());
    // One-sided: rho c L / h of steel 7850, 470, 0.75 mm; aluminium 2700, 897, 1.1 mm; polypropylene 905,
    // 1900, 3 mm (handbook values, from memory), h of ISO 6946's surface resistance: 8 W/(m2 K), rounded.
    return panel->thermal.heat_capacity / panel->thermal.transfer.value() / 60.0;
  };
  CHECK(minutes("front-wing") == doctest::Approx(5.76).epsilon(0.01).scale(0.0));
  CHECK(minutes("bonnet") == doctest::Approx(5.55).epsilon(0.01).scale(0.0));
  CHECK(minutes("front-bumper") == doctest::Approx(10.75).epsilon(0.01).scale(0.0));
}

TEST_CASE("every shipped film and solution has words in each language") {
  const auto check = [](const auto& entries) {
    for (const auto& entry : entries) {
      CAPTURE(entry.key);
      CHECK_FALSE(entry.label_uk.empty());
      CHECK_FALSE(entry.label_us.empty());
      CHECK_FALSE(entry.label_de.empty());
      CHECK(entry.label_de != entry.label_uk);
    }
  };
  check(shipped_catalogue().films);
  check(shipped_catalogue().solutions);
}

TEST_CASE("every shipped panel has words in each language, an area and zones") {
  for (const auto& panel : shipped_catalogue().panels) {
    CAPTURE(panel.key);
    CHECK_FALSE(panel.label_uk.empty());
    CHECK_FALSE(panel.label_us.empty());
    CHECK_FALSE(panel.label_de.empty());
    CHECK(panel.area_m2 > 0.0);
    CHECK_FALSE(panel.zones.empty());
  }
}

TEST_CASE("water grows with the wetness word, and no zone is drier than a flat field") {
  const auto water = shipped_catalogue().water;
  constexpr auto pooled = static_cast<std::size_t>(models::Wetness::pooled);
  for (std::size_t zone = 0; zone < water.size(); ++zone) {
    for (std::size_t wetness = 0; wetness < water[zone].size(); ++wetness) {
      CHECK(water[zone][wetness] >= water[0][wetness]);
      if (wetness > 0 && wetness != pooled) {
        CHECK(water[zone][wetness] > water[zone][wetness - 1]);
      }
    }
    CHECK(water[zone][pooled] >= water[zone][pooled - 1]);  // nothing pools on a flat field
  }
}

// Common practice, no source: the hours until the edge of a bonnet left dry, as usual and wet is wrapped are
// 6.5, 15.5 and 25.5, which at one resistance asks for water as 1 to 2.7 to 5. A bridged valley of 1 mm
// radius holds 19 to 62 um (geometry).
TEST_CASE("the shipped water is what practice asks of an edge, and a pool is what a valley holds" *
          doctest::test_suite("practice")) {
  const auto water = shipped_catalogue().water;
  const auto of = [&](models::ZoneKind zone, models::Wetness wetness) {
    return water[static_cast<std::size_t>(zone)][static_cast<std::size_t>(wetness)];
  };
  using models::Wetness, models::ZoneKind;
  const double dry = of(ZoneKind::edge, Wetness::dry_pulled);
  CHECK(of(ZoneKind::edge, Wetness::usual) / dry == doctest::Approx(2.7).epsilon(0.02).scale(0.0));
  CHECK(of(ZoneKind::edge, Wetness::wet) / dry == doctest::Approx(5.0).epsilon(0.02).scale(0.0));
  CHECK(of(ZoneKind::recess, Wetness::pooled) > 19.0);
  CHECK(of(ZoneKind::recess, Wetness::pooled) < 62.0);
  CHECK(water[static_cast<std::size_t>(ZoneKind::turn)] == water[static_cast<std::size_t>(ZoneKind::edge)]);
}

TEST_CASE("an older file's three numbers are read by the middle one, and a pool that it does not know") {
  const ScratchFolder folder;
  const auto file = test::write(folder, "water.toml",
                                "[field]\ndry-pulled=[0.3,1,3]\nusual=2\nwet=[4,10,25]\n"
                                "[edge]\ndry-pulled=1\nusual=2\nwet=3\npooled=5\n"
                                "[recess]\ndry-pulled=1\nusual=2\nwet=3\n"
                                "[turn]\ndry-pulled=1\nusual=2\nwet=3\n");
  config::Problems problems;
  const auto water = config::read_water(file, problems);
  CHECK(problems.empty());
  CHECK(water == WaterTable{{{1, 2, 10, 10}, {1, 2, 3, 5}, {1, 2, 3, 40}, {1, 2, 3, 3}}});
  const auto warnings = problems.warnings();
  REQUIRE(warnings.size() == 2);
  CHECK(warnings[0] == Problem{"dry-pulled: of the three numbers the middle one counts: write dry-pulled = 1",
                               file.string() + ":2:12"});
  CHECK(warnings[1] ==
        Problem{"wet: of the three numbers the middle one counts: write wet = 10", file.string() + ":4:5"});
  // A recess that is left wetter than a pool pools no less.
  config::Problems none;
  CHECK(config::read_water(test::write(folder, "water.toml",
                                       "[field]\ndry-pulled=1\nusual=2\nwet=3\n"
                                       "[edge]\ndry-pulled=1\nusual=2\nwet=3\n"
                                       "[recess]\ndry-pulled=1\nusual=2\nwet=80\n"
                                       "[turn]\ndry-pulled=1\nusual=2\nwet=3\n"),
                           none)[2][3] == 80.0);
  CHECK(none.warnings().empty());
}

TEST_CASE("the steps that are done on a panel: all of them, some, none") {
  const ScratchFolder folder;
  const std::string start =
      "[[sheet]]\nkey=\"steel\"\nheat_capacity_j_m2k=2767\n[[panel]]\nkey=\"p\"\nuk=\"p\"\narea_m2=1\n"
      "sheet=\"steel\"\nzones=[\"field\"]\n";
  const auto read = [&](const std::string& steps, config::Problems& problems) {
    return config::read_panels(test::write(folder, "panels.toml", start + steps), problems)
        .panels.at(0)
        .steps;
  };
  using models::Milestone;
  using Steps = std::vector<Milestone>;
  config::Problems problems;
  CHECK(read("", problems) == Steps{Milestone::wrap_ready, Milestone::trim_ready, Milestone::refit_ready});
  CHECK(read("steps=[\"trim\"]\n", problems) == Steps{Milestone::trim_ready});
  CHECK(read("steps=[\"refit\",\"wrap\"]\n", problems) ==
        Steps{Milestone::refit_ready, Milestone::wrap_ready});
  CHECK(read("steps=[]\n", problems).empty());
  CHECK(problems.empty());
  (void)read("steps=[\"wrap\",\"wraps\",\"wrap\"]\n", problems);
  CHECK(test::joined(whats(problems)) ==
        test::joined(
            {"steps: a step stands twice", "steps: \"wraps\" is none of \"wrap\", \"trim\", \"refit\""}));
  CHECK(problems.sorted()[1].where.ends_with("panels.toml:10:15"));
}

TEST_CASE("sides of a panel; a template takes a piece on each, or on those that it names") {
  const ScratchFolder folder;
  const std::string start =
      "[[sheet]]\nkey=\"steel\"\nheat_capacity_j_m2k=2767\n[[panel]]\nkey=\"wing\"\nuk=\"wing\"\narea_m2=0."
      "8\n"
      "sheet=\"steel\"\nzones=[\"field\"]\n";
  const auto read = [&](const std::string& rest, config::Problems& problems) {
    return config::read_panels(test::write(folder, "panels.toml", start + rest), problems);
  };
  const auto pieces = [&](const std::string& sides, const std::string& piece, config::Problems& problems) {
    const auto file =
        read(sides + "[[template]]\nkey=\"t\"\nuk=\"t\"\npieces=[{panel=\"wing\"" + piece + "}]\n", problems);
    return file.templates.at(0).pieces;
  };
  config::Problems none;
  CHECK(read("", none).panels.at(0).sides == std::vector<Side>{});  // there is one
  CHECK(read("sides=[\"left\",\"right\"]\n", none).panels.at(0).sides ==
        std::vector{Side::left, Side::right});
  using Pieces = std::vector<PlannedPiece>;
  CHECK(pieces("", "", none) == Pieces{{"wing", 1, 1}});
  CHECK(pieces("", ",parts=2", none) == Pieces{{"wing", 1, 2}, {"wing", 2, 2}});
  CHECK(pieces("sides=[\"left\",\"right\"]\n", "", none) ==
        Pieces{{"wing", 1, 1, Side::left}, {"wing", 1, 1, Side::right}});
  CHECK(pieces("sides=[\"left\",\"right\"]\n", ",sides=[\"right\"]", none) ==
        Pieces{{"wing", 1, 1, Side::right}});
  CHECK(none.sorted().empty());
  config::Problems twice;
  (void)read("sides=[\"left\",\"left\"]\n", twice);
  CHECK(twice.sorted().size() == 1);
  config::Problems other;
  (void)pieces("sides=[\"left\"]\n", ",sides=[\"rear\"]", other);
  REQUIRE(other.sorted().size() == 1);
  CHECK(other.sorted()[0].what == "sides: \"rear\" is no side of this panel");
}

TEST_CASE("a shipped roof is trimmed alone, a bumper is wrapped and its parts refitted") {
  const auto panels = shipped_catalogue().panels;
  const auto steps = [&](std::string_view key) {
    return std::ranges::find(panels, key, &PanelEntry::key)->steps;
  };
  using models::Milestone;
  CHECK(steps("roof") == std::vector{Milestone::trim_ready});
  CHECK(steps("door-cup") == std::vector{Milestone::trim_ready});
  for (const auto* all : {"front-bumper", "mirror", "bonnet", "front-door"}) {
    CHECK(steps(all) == std::vector{Milestone::wrap_ready, Milestone::trim_ready, Milestone::refit_ready});
  }
}

TEST_CASE("a file of the shop's own is taken instead of the shipped one, the others stay") {
  const ScratchFolder own;
  test::write(own, "solutions.toml",
              "[[solution]]\nkey=\"mine\"\nlabel=\"Mine\"\ndata_sheet=\"Sheet 7, 2025\"\n");
  config::Problems problems;
  const auto catalogue = config::read_catalogue(own.path(), shipped(), problems);
  REQUIRE(catalogue.solutions.size() == 1);
  CHECK(catalogue.solutions[0].key == "mine");
  CHECK(catalogue.solutions[0].label_us == "Mine");
  CHECK(catalogue.solutions[0].label_de.empty());
  CHECK(catalogue.solutions[0].data_sheet == "Sheet 7, 2025");
  CHECK(catalogue.films.size() == shipped_catalogue().films.size());
}

TEST_CASE("a shipped template names panels of the catalogue, each part once") {
  const auto catalogue = shipped_catalogue();
  REQUIRE(catalogue.templates.size() >= 4);
  for (const auto& entry : catalogue.templates) {
    CAPTURE(entry.key);
    CHECK_FALSE(entry.label_uk.empty());
    CHECK_FALSE(entry.label_us.empty());
    CHECK_FALSE(entry.label_de.empty());
    CHECK_FALSE(entry.pieces.empty());
    for (const auto& piece : entry.pieces) {
      CAPTURE(piece.panel);
      CHECK(std::any_of(catalogue.panels.begin(), catalogue.panels.end(),
                        [&](const PanelEntry& panel) { return panel.key == piece.panel; }));
      CHECK(std::count(entry.pieces.begin(), entry.pieces.end(), piece) == 1);
      CHECK(piece.part <= piece.parts);
    }
  }
}

TEST_CASE("mistakes in templates are told with their place") {
  const ScratchFolder folder;
  const auto file = test::write(folder, "panels.toml", R"([[sheet]]
key = "steel"
heat_capacity_j_m2k = 2767
[[panel]]
key = "bonnet"
uk = "bonnet"
area_m2 = 1.6
sheet = "steel"
zones = ["field"]
[[template]]
key = "front"
uk = "front"
pieces = [{ panel = "bonet" }, { panel = "bonnet", parts = 0 }, { panel = "bonnet", colour = "red" }]
[[template]]
key = "front"
uk = "front again"
pieces = []
[[template]]
key = "none"
uk = "none"
)");
  config::Problems problems;
  (void)config::read_panels(file, problems);
  std::string all;
  for (const auto& problem : problems.sorted()) {
    all += problem.where.substr(problem.where.find(':') + 1) + " " + problem.what + "\n";
  }
  CAPTURE(all);
  const auto says = [&](std::string_view part) { return all.find(part) != std::string::npos; };
  CHECK(says("13:21 panel: no [[panel]] \"bonet\", did you mean \"bonnet\"?"));
  CHECK(says("13:60 parts: 0 is outside 1 to 20"));
  CHECK(says("\"bonnet\" stands twice; for several pieces on it set parts"));
  CHECK(says("unknown key \"colour\""));
  CHECK(says("\"front\" is there already"));
  CHECK(says("pieces: a list of at least one"));
  CHECK(problems.sorted().size() == 7);  // and pieces is missing in the last one
}

// By hand: 10 g/m2 a day is 1.15741e-7 kg/(m2 s); half of 2339.2 Pa (saturation at 20 C, ASHRAE 2017 ch. 1
// table 3, from memory) drives it through 100 um: 9.896e-15 kg/(m s Pa). 1 US perm is 5.7214e-11 kg/(m2 s Pa)
// (ASTM E96), so 2 of them through 50 um are 5.721e-15.
TEST_CASE("a layer may be told as a data sheet tells it") {
  const ScratchFolder folder;
  const auto layer = [&](const std::string& way, config::Problems& problems) {
    return config::read_films(
        test::write(folder, "films.toml",
                    "[[film]]\nkey=\"a\"\nlabel=\"a\"\n[[film.layer]]\nname=\"f\"\nsorption=17\n" + way),
        problems);
  };
  config::Problems none;
  const auto transmission = layer(
      "thickness_um=100\nactivation_energy=0\ntransmission_g_m2_day=10\ntransmission_at_c=20\n"
      "transmission_difference_pct=50\n",
      none);
  const auto perms = layer("thickness_um=50\npermeance_perms=2\n", none);
  CHECK(whats(none).empty());
  REQUIRE(transmission.size() == 1);
  REQUIRE(perms.size() == 1);
  CHECK(transmission[0].stack.layers[0].permeability.value() ==
        doctest::Approx(9.896e-15).epsilon(1e-3).scale(0.0));
  CHECK(perms[0].stack.layers[0].permeability.value() ==
        doctest::Approx(5.7214e-15).epsilon(1e-4).scale(0.0));
  config::Problems half, twice;
  (void)layer("thickness_um=100\ntransmission_g_m2_day=10\ntransmission_at_c=20\n", half);
  CHECK(whats(half) == std::vector<std::string>{"transmission_difference_pct is missing"});
  (void)layer("thickness_um=100\npermeability=5e-14\npermeance_perms=2\n", twice);
  CHECK(whats(twice) == std::vector<std::string>{"permeability: told twice: one of permeability, "
                                                 "transmission_g_m2_day and permeance_perms is enough"});
}

TEST_CASE("mistakes in catalogue files") {
  const ScratchFolder folder;
  config::Problems films;
  (void)config::read_films(
      test::write(folder, "films.toml",
                  "[[film]]\nkey=\"A b\"\nlabel=\"x\"\n[[film.layer]]\nname=\"f\"\nthickness_um=0.00015\n"
                  "permeability=5e-14\nsorption=17\nthicknes=1\n"),
      films);
  CHECK(test::joined(whats(films)) ==
        test::joined({"key: only lower-case letters, digits and \"-\" may be in a key",
                      "thickness_um: 0.00015 is outside 0.5 to 2000",
                      "unknown key \"thicknes\", did you mean \"thickness_um\"?"}));
  config::Problems panels;
  (void)config::read_panels(
      test::write(folder, "panels.toml",
                  "[[sheet]]\nkey=\"steel\"\nheat_capacity_j_m2k=2767\n[[panel]]\nkey=\"p\"\nuk=\"p\"\n"
                  "area_m2=1\nsheet=\"stel\"\nzones=[\"field\",\"edges\",\"field\"]\n"),
      panels);
  CHECK(test::joined(whats(panels)) ==
        test::joined({"sheet: no [[sheet]] \"stel\", did you mean \"steel\"?", "zones: a zone stands twice",
                      "zones: \"edges\" is none of \"field\", \"edge\", \"recess\", \"turn\""}));
  config::Problems water;
  (void)config::read_water(
      test::write(folder, "water.toml",
                  "[field]\ndry-pulled=[1,2]\nusual=[3,2,4]\nwet=1\n[edge]\ndry-pulled=0\n"
                  "usual=1\nwet=1\n[recess]\ndry-pulled=1\nusual=1\nwet=[1,2,nan]\npooled=\"yes\"\n"),
      water);
  CHECK(test::joined(whats(water)) ==
        test::joined({"turn is missing", "dry-pulled: a number is expected, or an older file's three, rising",
                      "usual: a number is expected, or an older file's three, rising",
                      "dry-pulled: 0 is outside 0.01 to 1000",
                      "wet: a number is expected, or an older file's three, rising",
                      "wet: nan is outside 0.01 to 1000", "pooled: a number is expected, not text \"yes\""}));
  config::Problems empty;
  (void)config::read_solutions(test::write(folder, "solutions.toml", "# nothing\n"), empty);
  CHECK(test::joined(whats(empty)) == test::joined({"no [[solution]] in this file"}));
}
