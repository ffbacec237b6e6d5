#include "cli/dry_report.hpp"
#include "cli/some_board.hpp"

#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>

using namespace dryclock::cli;

namespace {

DryResult some_result() {
  DryResult result;
  result.dry_h = 11.5;
  result.excess_at_dry = 0.69;
  result.excess_min[0] = 30.0;
  result.series.push_back({0.0, 10.0, 0.0, 0.0, 21.0, 50.0, 21.0, 1.0});
  return result;
}

}  // namespace

TEST_CASE("JSON has the documented members; what was not reached is null") {
  DryCase dry;
  dry.title = "a \"quoted\" title\n";
  const auto root = boost::json::parse(json_report(dry, some_result())).as_object();
  CHECK(root.at("title").as_string() == dry.title);
  CHECK(root.at("solver").as_string() == "modes");
  CHECK(root.at("dry_h").as_double() == 11.5);
  CHECK(root.at("below_h").is_null());
  CHECK(root.at("excess_falls").as_array()[0].at("minutes").to_number<double>() == 30.0);
  CHECK(root.at("excess_falls").as_array()[4].at("minutes").is_null());
  CHECK(root.at("bond_reached").as_array().size() == 4);
  CHECK(root.at("validity").as_array().empty());
  CHECK_FALSE(root.at("air_held").as_bool());
  CHECK(root.at("series").as_array()[0].at("water_g_m2").to_number<double>() == 10.0);
  CHECK(root.size() == 11);
}

TEST_CASE("CSV has the documented header") {
  CHECK(csv_report(some_result()) ==
        "hours,water_g_m2,excess_g_m2,bond,air_c,rh_pct,panel_c,pace\n0,10,0,0,21,50,21,1\n");
}

TEST_CASE("a case that did not dry says what is left") {
  DryCase dry;
  dry.max_hours = 12.0;
  auto result = some_result();
  result.dry_h = std::nullopt;
  const auto text = text_report(dry, result, dryclock::test::some_words());
  CHECK(text.find("liquid gone      not within 12 h") != std::string::npos);
  CHECK(text.find("left at the end  10.00 g/m²") != std::string::npos);
}

TEST_CASE("a film that holds less than the air leaves in it is said to, and not to fall to shares of that") {
  auto result = some_result();
  CHECK(text_report({}, result, dryclock::test::some_words()).find("that falls to") != std::string::npos);
  result.excess_at_dry = -0.3;
  result.excess_min.fill(std::nullopt);
  const auto text = text_report({}, result, dryclock::test::some_words());
  CHECK(text.find("film then holds  0.3000 g/m² less than the air asks for\n") != std::string::npos);
  CHECK(text.find("that falls to") == std::string::npos);
}

TEST_CASE("the series' columns stand below their heads, whatever the language") {
  CHECK(text_report({}, some_result(), dryclock::test::some_words())
            .ends_with("\n     h    water  excess  bond   air    RH  panel  pace\n"
                       "           g/m²    g/m²          °C     %     °C\n"
                       "  0.00  10.0000  0.0000  0.00  21.0  50.0   21.0  1.00\n"));
  const auto german = text_report({}, some_result(), dryclock::test::some_words(dryclock::Language::german));
  CHECK(german.find("Wasser weg       11,50 h") != std::string::npos);
  CHECK(
      german.ends_with("     h   Wasser  Überschuss  Haftung  Luft  r. F.  Bauteil  Trocknungstempo\n"
                       "           g/m²        g/m²             °C      %       °C\n"
                       "  0,00  10,0000      0,0000     0,00  21,0   50,0     21,0             1,00\n"));
}
