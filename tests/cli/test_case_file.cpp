#include "cli/case_file.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "config/config_error.hpp"
#include "config/shipped_files.hpp"
#include "support/config_files.hpp"

using namespace dryclock;
using dryclock::test::ScratchFolder;
using dryclock::test::shipped;

namespace {

cli::DryCase read_case(const std::filesystem::path& file) {
  return cli::read_case(file, find_shipped_files(shipped().string()));
}

std::string problems_of(const char* name, std::string_view text) {
  const ScratchFolder folder;
  const auto file = test::write(folder, name, text);
  try {
    (void)read_case(file);
  } catch (const ConfigError& error) {
    std::string all;
    for (const auto& problem : error.problems()) {
      all += to_string(problem).substr(file.string().size()) + "\n";
    }
    return all;
  }
  return "";
}

}  // namespace

TEST_CASE("the shipped examples are sound") {
  const auto baseline = read_case(shipped() / "cases/baseline.toml");
  CHECK(baseline.stack.layers.size() == 3);
  CHECK(baseline.break_up == 0.0);
  CHECK(baseline.air.size() == 1);
  const auto night = read_case(shipped() / "cases/cold-night.toml");
  CHECK(night.panel == cli::PanelSource::modelled);
  CHECK(night.thermal.body_heat_capacity > 0.0);  // like the bonnet
  CHECK(night.air.size() == 33);
  const auto own = read_case(shipped() / "cases/custom-stack.json");
  CHECK(own.stack.layers[1].activation_energy == 12000.0);
  CHECK(own.panel == cli::PanelSource::measured);
}

TEST_CASE("TOML and JSON with the same keys are the same case") {
  const ScratchFolder folder;
  const auto toml = read_case(test::write(
      folder, "a.toml", "film=\"plain\"\nwater_g_m2=3\nair={air_c=20,rh_pct=60}\nsolver=\"grid\"\n"));
  const auto json = read_case(test::write(
      folder, "a.json", R"({"film":"plain","water_g_m2":3,"air":{"air_c":20,"rh_pct":60},"solver":"grid"})"));
  CHECK(toml.stack.layers.size() == json.stack.layers.size());
  CHECK(toml.water == json.water);
  CHECK(toml.air[0].rh_pct == json.air[0].rh_pct);
  CHECK(toml.solver == json.solver);
  CHECK(json.solver == cli::Solver::grid);
}

TEST_CASE(
    "unlike activation energies are solved on the grid unless the case says otherwise or holds alcohol") {
  const ScratchFolder folder;
  const auto solver = [&](std::string_view energy, const std::string& more) {
    const std::string text = fmt::format(
        "water_g_m2=3\nair={{air_c=20,rh_pct=60}}\n{}"
        "[[layer]]\nname=\"adhesive\"\nthickness_um=40\npermeability=3e-14\nsorption=4.5\n"
        "[[layer]]\nname=\"film\"\nthickness_um=150\npermeability=5e-14\nsorption=17\nactivation_energy={}\n",
        more, energy);
    return read_case(test::write(folder, "a.toml", text)).solver;
  };
  CHECK(solver("13000", "") == cli::Solver::modes);
  CHECK(solver("17000", "") == cli::Solver::grid);
  CHECK(solver("17000", "solver=\"modes\"\n") == cli::Solver::modes);
  CHECK(solver("17000", "alcohol_mass_fraction=0.1\n") == cli::Solver::modes);
}

TEST_CASE("every mistake at once, TOML by line and column") {
  CHECK(problems_of("c.toml",
                    "film = \"basline\"\n"
                    "water_g_m2 = -1\n"
                    "air = { air_c = 21 }\n"
                    "solvr = \"grid\"\n") ==
        ":1:8: film: no \"basline\" in the catalogue, did you mean \"baseline\"?\n"
        ":2:14: water_g_m2: -1 is outside 0.01 to 1000\n"
        ":3:7: rh_pct is missing\n"
        ":4:1: unknown key \"solvr\", did you mean \"solver\"?\n");
}

TEST_CASE("JSON by pointer") {
  CHECK(problems_of("c.json",
                    R"({"layer":[{"name":"f","thickness_um":"150","permeability":5e-14,"sorption":17}],
                                  "water_g_m2":1,"air":{"air_c":21,"rh_pct":50}})") ==
        ": /layer/0/thickness_um: thickness_um: a number is expected, not text \"150\"\n");
}

TEST_CASE("what does not go together") {
  const std::string start = "film=\"plain\"\nwater_g_m2=3\n";
  CHECK(problems_of("c.toml", start) == ":1:1: air is missing\n");
  CHECK(problems_of("c.toml",
                    start + "air={air_c=20,rh_pct=60}\nalcohol_mass_fraction=0.1\nsolver=\"grid\"\n") ==
        ":5:8: solver: \"grid\" knows water alone; take \"modes\" where there is alcohol\n");
  CHECK(problems_of("c.toml", start + "air={air_c=20,rh_pct=60}\npanel={temperature=\"measured\"}\n") ==
        ":4:20: temperature: \"measured\" needs panel_c with every row of air\n");
  CHECK(problems_of("c.toml",
                    start + "air={series=[{hours=1,air_c=20,rh_pct=60},{hours=1,air_c=20,rh_pct=60}]}\n") ==
        ":3:50: hours: does not rise\n");
  CHECK(problems_of("c.toml", "water_g_m2=3\nair={air_c=20,rh_pct=60}\n") == ":1:1: film is missing\n");
}

TEST_CASE("where no catalogue is, only a case that names an entry of one is in want of it") {
  const ScratchFolder folder;
  const Problem none{"no films.toml here", ""};
  const std::string own =
      "water_g_m2=3\nair={air_c=20,rh_pct=60}\n"
      "[[layer]]\nname=\"film\"\nthickness_um=150\npermeability=5e-14\nsorption=17\n";
  CHECK(cli::read_case(test::write(folder, "own.toml", own), none).stack.layers.size() == 1);
  const auto problem_of = [&](const char* name, const std::string& text) {
    try {
      (void)cli::read_case(test::write(folder, name, text), none);
    } catch (const ConfigError& error) {
      return to_string(error.problems().front());
    }
    return std::string("none");
  };
  const auto file = [&](const char* name) { return (folder / name).string(); };
  CHECK(problem_of("film.toml", "film=\"plain\"\nwater_g_m2=3\nair={air_c=20,rh_pct=60}\n") ==
        file("film.toml") + ":1:6: film: no films.toml here");
  CHECK(problem_of("panel.toml", own + "[panel]\ntemperature=\"modelled\"\nlike=\"bonnet\"\n") ==
        file("panel.toml") + ":10:6: like: no films.toml here");
}
