#include "wording/catalogue.hpp"

#include <doctest/doctest.h>

#include <regex>

#include "support/capture_bound.hpp"
#include "support/said.hpp"
#include "wording/spoken.hpp"

namespace dryclock::wording {
namespace {

// Each language has each message: patterns() throws where one lacks.
const std::array all_languages{Language::english_uk, Language::english_us, Language::german};

}  // namespace

TEST_CASE("every language has every message, and ICU reads each one") {
  const auto keys = patterns(Language::english_uk);
  CHECK(keys.size() > 100);
  for (const auto language : all_languages) {
    const auto table = patterns(language);
    CHECK(table.size() == keys.size());
    const auto words = support::words({language});
    for (const auto& [key, pattern] : table) {
      CAPTURE_BOUND(key);
      CHECK(keys.contains(key));
      CHECK_FALSE(pattern.empty());
      CHECK_FALSE(words.say(key).empty());  // values that are missing stand as their names
    }
  }
}

TEST_CASE("units are written right in every message: no \"m2\", \"g/m2\", \" C\" after a value") {
  const std::regex wrong{R"((\bm2\b|\bm3\b|(\} ?|\d )[CF]([ .,;:)]|$)))"}, micrometres{R"(\bum\b)"};
  for (const auto language : all_languages) {
    for (const auto& [key, pattern] : patterns(language)) {
      CAPTURE_BOUND(key);
      CAPTURE_BOUND(pattern);
      CHECK_FALSE(std::regex_search(pattern, wrong));
      CHECK((language == Language::german || !std::regex_search(pattern, micrometres)));  // a German word
    }
  }
}

TEST_CASE("the cautions keep their sense: what each must name is named in every language") {
  struct Sense {
    const char* key;
    std::vector<const char*> english, german;
  };
  const std::vector<Sense> senses{
      {"cautions.advice",
       {"advice", "Look and feel", "cannot be undone"},
       {"Rat", "hinsehen und fühlen", "nicht ungeschehen"}},
      {"cautions.heat",
       {"film maker's temperature", "measure the surface", "keep moving", "solvent", "wet electrics", "glass",
        "airbags", "burns"},
       {"Folienherstellers", "Oberfläche messen", "in Bewegung", "Lösemittel", "nasser Elektrik", "Glas",
        "Airbags", "Verbrennung"}},
      {"cautions.solvent",
       {"flammable", "heavier than air", "ventilate", "no ignition source", "heat gun", "gloves",
        "eye protection", "safety data sheet", "workplace rules"},
       {"entzündlich", "schwerer als Luft", "lüften", "keine Zündquelle", "Heißluftpistole", "Handschuhe",
        "Augenschutz", "Sicherheitsdatenblatt", "Vorschriften am Arbeitsplatz"}},
      {"cautions.systems",
       {"High-voltage", "driver-assistance", "airbags", "manufacturer's procedure", "qualified"},
       {"Hochvolt", "Fahrerassistenz", "Airbags", "Verfahren des Herstellers", "befähigte Fachkräfte"}},
      {"advice.solvent",
       {"Ventilate", "No flame, spark or heat gun", "near the floor", "safety data sheet", "workplace rules"},
       {"Lüften", "Keine Flamme, kein Funke, keine Heißluftpistole", "nahe am Boden", "Sicherheitsdatenblatt",
        "Vorschriften am Arbeitsplatz"}}};
  for (const auto& sense : senses) {
    for (const auto language : all_languages) {
      const auto text = support::words({language}).say(sense.key);
      CAPTURE(text);
      for (const char* word : language == Language::german ? sense.german : sense.english) {
        CAPTURE(word);
        CHECK(text.find(word) != std::string::npos);
      }
    }
  }
}

TEST_CASE("verbs agree with what is counted") {
  const auto begins = [](const char* key, Value counted, Language language, const char* text) {
    CAPTURE(text);
    CHECK(support::words({language}).say(key, {std::move(counted)}).starts_with(text));
  };
  const auto weighings = [](int n) { return say::count("weighings", n); };
  begins("coupons.few", weighings(0), Language::english_uk, "0 of 4 weighings count so far");
  begins("coupons.few", weighings(1), Language::english_uk, "1 of 4 weighings counts so far");
  begins("coupons.few", weighings(1), Language::german, "1 von 4 Wägungen zählt bisher");
  begins("coupons.few", weighings(3), Language::german, "3 von 4 Wägungen zählen bisher");
  begins("record-plots.bridged", say::count("n", 1), Language::german, "1 dieser Minuten hatte keine");
  begins("record-plots.bridged", say::count("n", 12), Language::german, "12 dieser Minuten hatten keine");
}

TEST_CASE("words are put to every fact of a view, wherever it stands") {
  VehicleSummary vehicle;
  vehicle.held_by = {"limits.no-film"};
  vehicle.pieces.resize(1);
  vehicle.pieces[0].milestones[2].held_by = {"limits.no-readings"};
  vehicle.pieces[0].early_steps.push_back({1, "trimmed", 0.2, {"limits.no-readings"}});
  Board board;
  board.vehicles = {vehicle};
  board.alerts.resize(1);
  board.alerts[0].what = {"alerts.as-told", {say::text("text", "It is so.")}};
  const auto said = spoken(board, support::words({Language::german}));
  CHECK(said.vehicles[0].held_by.words == "keine Folie verlegt");
  CHECK(said.vehicles[0].pieces[0].milestones[2].held_by.words == "keine Messwerte seit dem Verlegen");
  CHECK(said.vehicles[0].pieces[0].milestones[0].held_by.words.empty());
  CHECK(said.vehicles[0].pieces[0].early_steps[0].still_wet.words == "keine Messwerte seit dem Verlegen");
  CHECK(said.alerts[0].what.words == "It is so.");
}

}  // namespace dryclock::wording
