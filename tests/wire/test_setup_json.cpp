#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value_from.hpp>
#include <filesystem>

#include "config/load_config.hpp"
#include "support/small_shop.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::wire {
namespace {

namespace json = boost::json;

Configured shipped() {
  const auto config = load_config(std::filesystem::path{DRYCLOCK_SOURCE_DIR} / "config/dryclock.toml",
                                  std::filesystem::path{DRYCLOCK_SOURCE_DIR} / "config");
  return {"1.2.3", "abc", false, {{7, "no piece 3"}}, config.setup};
}

// Every leaf of a JSON value, by its pointer. No list may be empty: it would hide leaves.
void collect(const json::value& value, const std::string& path, std::vector<std::string>& out) {
  if (const auto* object = value.if_object()) {
    for (const auto& [key, member] : *object) {
      collect(member, path + "/" + std::string{key}, out);
    }
  } else if (const auto* array = value.if_array()) {
    CHECK_MESSAGE(!array->empty(), path);
    for (std::size_t i = 0; i < array->size(); ++i) {
      collect((*array)[i], path + "/" + std::to_string(i), out);
    }
  } else {
    out.push_back(path);
  }
}

// Another value that the leaf may have.
json::value other(const std::string& pointer, const json::value& leaf) {
  if (leaf.is_int64()) {
    return leaf.get_int64() + 1;
  }
  if (leaf.is_double()) {
    return leaf.get_double() * 1.5 + 1.0;
  }
  if (leaf.is_bool()) {
    return !leaf.get_bool();
  }
  if (leaf.is_null() && pointer.ends_with("/side")) {
    return "left";
  }
  if (leaf.is_null()) {  // an optional that is absent
    return pointer.ends_with("/sides") ? json::value(json::array{"left"}) : json::value(1.25);
  }
  const std::string text{leaf.get_string()};
  const auto another = [&](const char* one, const char* other) { return text == one ? other : one; };
  if (pointer.ends_with("/quantity")) {
    return another("panel-temperature", "air-speed");
  }
  if (pointer.ends_with("/language")) {
    return another("de", "en-US");
  }
  if (pointer.ends_with("/temperature_unit")) {
    return another("C", "F");
  }
  if (pointer.ends_with("/unit")) {
    return another("F", "K");
  }
  if (pointer.find("/zones/") != std::string::npos) {
    return another("turn", "recess");
  }
  if (pointer.find("/sides/") != std::string::npos) {
    return another("left", "right");
  }
  if (pointer.find("/steps/") != std::string::npos) {
    return another("wrap-ready", "trim-ready");
  }
  return json::value_from(text + "x");
}

// A shop where no list is empty, and an optional is present.
Configured full() {
  Setup setup = support::small_shop();
  setup.bays[0].volume_m3 = 90.0;
  setup.sensors = {{"probe", "RH-9", "north wall"}};
  setup.catalogue.templates = {{"front", "front end", "front end", "Frontpaket", {{"bonnet", 1, 2}}}};
  return {"p", "h", false, {{7, "no piece 3"}}, std::move(setup)};
}

TEST_CASE("what was written is read back: every setting of the shipped files") {
  const auto text = to_json(shipped());
  const auto back = read_configured(text);
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  CHECK(back->program == "1.2.3");
  CHECK(back->settings_sha256 == "abc");
  CHECK(back->refused.at(0).row == 7);
  CHECK(back->refused.at(0).why == "no piece 3");
  // Boost.JSON reads a number to within its last place, so the text itself is not compared.
  const auto& stack = back->setup.catalogue.films.at(0).stack;
  const auto given = shipped().setup.catalogue.films.at(0).stack;
  REQUIRE(stack.layers.size() == given.layers.size());
  CHECK(stack.layers[0].permeability.value() ==
        doctest::Approx(given.layers[0].permeability.value()).epsilon(1e-15).scale(0.0));
  CHECK(back->setup.catalogue.panels.size() == shipped().setup.catalogue.panels.size());
}

TEST_CASE("a film and a solution in a row of before there were other languages keep their label") {
  const auto back = read_configured(
      R"({"settings":{"catalogue":{"films":[{"key":"a","label":"A film"}],"solutions":[{"key":"b","label":"B"}]}}})");
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  const auto& catalogue = back->setup.catalogue;
  CHECK(catalogue.films.at(0).label_uk == "A film");
  CHECK(catalogue.films.at(0).label_de.empty());
  CHECK(catalogue.solutions.at(0).label_uk == "B");
}

// As the program wrote it that looked at an ensemble of pieces.
TEST_CASE("a row of before hands were learnt: water by the middle of its range, every step on every panel") {
  const auto range = [](double likely) {
    return json::value{{"low", likely / 2}, {"likely", likely}, {"high", likely * 3}};
  };
  json::array water;
  for (const double zone : {1.0, 10.0, 100.0, 1000.0}) {
    water.push_back(json::array{range(zone), range(zone + 1), range(zone + 2)});
  }
  const json::value row{
      {"settings",
       {{"catalogue",
         {{"water", water}, {"panels", {{{"key", "roof"}, {"zones", json::array{"field", "edge"}}}}}}},
        {"thresholds",
         {{"wrap_excess", 0.3}, {"refit_bond", 0.7}, {"release_bond", 0.95}, {"dry_below_g_m2", 0.05}}}}}};
  const auto back = read_configured(json::serialize(row));
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  const auto& catalogue = back->setup.catalogue;
  CHECK(bool{catalogue.water[0] == std::array{1.0, 2.0, 3.0, 3.0}});
  CHECK(bool{catalogue.water[2] == std::array{100.0, 101.0, 102.0, 102.0}});
  CHECK(bool{catalogue.panels.at(0).steps == PanelEntry{}.steps});
  CHECK(catalogue.panels.at(0).steps.size() == 3);
  CHECK(back->setup.thresholds.wrap_excess == 0.3);
  CHECK(back->setup.thresholds.refit_bond == 0.7);
  CHECK(back->setup.thresholds.leave_bond == models::Thresholds{}.leave_bond);
}

TEST_CASE("a row's water that is neither of the two forms is told with its place") {
  const auto where = [](const std::string& water) {
    const auto read = read_configured(R"({"settings":{"catalogue":{"water":)" + water + "}}}");
    return read ? "" : read.error().where;
  };
  CHECK(where("[[1,2,3,4],[1,2,3,4],[1,2,3,4],[1,2,3,4]]").empty());
  CHECK(where("3") == "/settings/catalogue/water");
  CHECK(where("[[1,2],[1,2,3,4],[1,2,3,4],[1,2,3,4]]") == "/settings/catalogue/water/0");
  CHECK(where(R"([[1,2,3,4],[{"low":1},2,3],[1,2,3,4],[1,2,3,4]])") == "/settings/catalogue/water/1/0");
}

TEST_CASE("no leaf of the text is lost: each one that is changed reads back changed") {
  const auto before = json::parse(to_json(full()));
  std::vector<std::string> leaves;
  collect(before, "", leaves);
  CHECK(leaves.size() > 100);
  for (const auto& leaf : leaves) {
    auto altered = before;
    auto& value = altered.at_pointer(leaf);
    value = other(leaf, value);
    const auto read = read_configured(json::serialize(altered));
    if (!read) {
      FAIL(leaf << ": " << to_string(read.error()));
    }
    const auto after = json::parse(to_json(*read));
    CAPTURE(leaf);
    const auto& wanted = altered.at_pointer(leaf);
    const auto& got = after.at_pointer(leaf);
    if (wanted.is_number()) {
      CHECK(got.to_number<double>() == doctest::Approx(wanted.to_number<double>()).epsilon(1e-12));
    } else {
      CHECK(got == wanted);
    }
  }
}

TEST_CASE("a row of another program: what is missing has its default, what is new is passed over") {
  const auto read =
      read_configured(R"({"program":"0.0.1","news":[1],"settings":{"announce_level":0.8,"x":{}}})");
  REQUIRE(read.has_value());
  CHECK(read->setup.announce_level == 0.8);
  CHECK(read->setup.alerts.dew_margin_k == AlertSettings{}.dew_margin_k);
}

TEST_CASE("a row of a program that spoke English alone is read") {
  CHECK(read_configured(R"({"settings":{"site":{"shop":"An invented shop"}}})").value().setup.site.name ==
        "An invented shop");
  const auto manner_of = [](std::string_view row) { return read_configured(row).value().setup.site.manner; };
  CHECK(manner_of(R"({"settings":{"site":{"fahrenheit":true},"catalogue":{"us_words":true}}})") ==
        Manner{Language::english_us, TemperatureScale::fahrenheit});
  CHECK(manner_of(R"({"settings":{"site":{"fahrenheit":false},"catalogue":{"us_words":false}}})") ==
        Manner{});
  CHECK(manner_of(R"({"settings":{"site":{"language":"de","temperature_unit":"F"}}})") ==
        Manner{Language::german, TemperatureScale::fahrenheit});
}

TEST_CASE("what is wrong is told with its place") {
  CHECK(to_string(read_configured("{").error()).find("not JSON") != std::string::npos);
  const auto wrong = read_configured(R"({"settings":{"bays":[{"name":"a"},{"name":3}]}})");
  REQUIRE(!wrong.has_value());
  CHECK(wrong.error().where == "/settings/bays/1/name");
  CHECK(read_configured(R"({"settings":{"mappings":[{"unit":"stone"}]}})").error().where ==
        "/settings/mappings/0/unit");
}

}  // namespace
}  // namespace dryclock::wire
