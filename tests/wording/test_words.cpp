#include "wording/words.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <limits>

#include "support/said.hpp"

namespace dryclock::wording {
namespace {

using std::chrono::hours, std::chrono::minutes, std::chrono::seconds;

const Manner english{}, german{Language::german, TemperatureScale::celsius},
    american{Language::english_us, TemperatureScale::fahrenheit};

std::string value(const Value& one, Manner manner = english) {
  return support::words(manner).value(one);
}

}  // namespace

TEST_CASE("an entry of a catalogue is said in the reader's language, or in British words") {
  const std::vector<FilmEntry> films{{"matt", "matt film", "matte film", "matte Folie", {}},
                                     {"own", "own film", "", "", {}}};
  const std::vector<SolutionEntry> solutions{{"slip", "slip solution", "", "Gleitlösung", {}}};
  const auto said = [&](const Value& one, Manner manner) {
    return support::words(manner, {films, solutions, {}}).value(one);
  };
  CHECK(said(say::film("f", "matt"), english) == "matt film");
  CHECK(said(say::film("f", "matt"), american) == "matte film");
  CHECK(said(say::film("f", "matt"), german) == "matte Folie");
  for (const auto& manner : {english, american, german}) {
    CHECK(said(say::film("f", "own"), manner) == "own film");
    CHECK(said(say::film("f", "slip"), manner) == "slip");  // none of that key
  }
  CHECK(said(say::solution("s", "slip"), american) == "slip solution");
  CHECK(said(say::solution("s", "slip"), german) == "Gleitlösung");
}

// The SI Brochure (BIPM, 9th edition, 2019), 5.4.3: a space stands between number and symbol, also before °C
// and %; 5.4.4: the marker of decimals is the language's own. From memory.
TEST_CASE("each measure is written with its unit, and with the language's own decimals [SIBrochure: 5.4.3]") {
  CHECK(value(say::celsius("t", 9.44)) == "9.4 °C");
  CHECK(value(say::celsius("t", -0.04)) == "0 °C");
  CHECK(value(say::celsius("t", -3.5), german) == "-3,5 °C");
  CHECK(value(say::humidity("h", 72.46)) == "72.5 %RH");
  CHECK(value(say::humidity("h", 72.46), german) == "72,5 % r. F.");
  CHECK(value(say::humidity_change("h", 3.0)) == "+3 %RH");
  CHECK(value(say::humidity_change("h", -3.0), german) == "-3 % r. F.");
  CHECK(value(say::humidity_change("h", 0.04)) == "0 %RH");
  CHECK(value(say::humidity_change("h", -0.04)) == "0 %RH");
  CHECK(value(say::figure("w", Measure::water, 11.04)) == "11 g/m²");
  CHECK(value(say::figure("w", Measure::water, 3.14), german) == "3,1 g/m²");
  CHECK(value(say::figure("w", Measure::water, 0.256)) == "0.26 g/m²");
  CHECK(value(say::figure("w", Measure::hours, 6.08)) == "6.1 h");
  CHECK(value(say::share("s", 0.873)) == "87 %");
  CHECK(value(say::share("s", 0.873, 3), german) == "87,3 %");
  CHECK(value(say::number("p", Measure::concentration, 1205.0)) == "1,205 ppm");
  CHECK(value(say::number("p", Measure::concentration, 1205.0), german) == "1.205 ppm");
  CHECK(value(say::number("v", Measure::volume, 160.0)) == "160 m³");
  CHECK(value(say::number("b", Measure::storage, 99e6)) == "99 MB");
  CHECK(value(say::number("r", Measure::resistance, 3.4e9)) == "3.4 GPa m² s/kg");
  CHECK(value(say::count("n", 12'000)) == "12,000");
}

// F = 1.8 C + 32, and a difference of 1 K is one of 1.8 F: NIST Special Publication 811 (2008), B.8. From
// memory.
TEST_CASE("temperatures and their differences are converted as numbers [NISTSP811: B.8]") {
  CHECK(value(say::celsius("t", 0.0), american) == "32 °F");
  CHECK(value(say::celsius("t", 100.0), american) == "212 °F");
  CHECK(value(say::celsius("t", -40.0), american) == "-40 °F");
  CHECK(value(say::celsius("t", 12.5), american) == "54.5 °F");
  CHECK(value(say::kelvin("d", 2.0), american) == "3.6 °F");
  CHECK(value(say::kelvin("d", 2.0)) == "2 K");
}

TEST_CASE("a name stays as somebody gave it, whatever it looks like") {
  const Fact fact{"limits.to-lay", {say::text("piece", "lot 5 C")}};
  CHECK(support::said(fact, american) == "lot 5 C, still to lay");
  CHECK(support::said({"limits.to-lay", {say::text("piece", "{n} 'm2' #")}}) == "{n} 'm2' #, still to lay");
}

TEST_CASE("spans of time as people say them") {
  const auto words = support::words();
  CHECK(words.span(minutes{0}) == "0 min");
  CHECK(words.span(seconds{45}) == "45 s");
  CHECK(words.span(seconds{119}) == "119 s");
  CHECK(words.span(seconds{185}) == "3 min");
  CHECK(words.span(hours{2} + minutes{10}) == "2 h 10 min");
  CHECK(words.span(hours{3}) == "3 h");
  CHECK(words.span(hours{24}) == "1 day");
  CHECK(words.span(hours{76} + minutes{59}) == "3 days 4 h");
  CHECK(words.span(-minutes{2}) == "-2 min");  // of a clock that is ahead
  CHECK(words.span(-(hours{3} + seconds{30})) == "-3 h");
  CHECK(support::words(german).span(hours{76}) == "3 Tage 4 h");
  CHECK(support::words(german).span(hours{25}) == "1 Tag 1 h");
}

TEST_CASE("what is no number, and what no time: a dash") {
  const auto words = support::words();
  CHECK(words.share(0.5) == "50 %");
  constexpr double infinite = std::numeric_limits<double>::infinity();
  for (const double none : {std::numeric_limits<double>::quiet_NaN(), infinite, -infinite, 1e300}) {
    CAPTURE(none);
    CHECK(words.number(none, 1) == "-");
    CHECK(words.temperature(none) == "-");
    CHECK(words.difference(none) == "-");
    for (std::size_t measure = 0; measure < dryclock::words<Measure>.size(); ++measure) {
      const auto which = static_cast<Measure>(measure);
      constexpr std::array names{Measure::text,  Measure::word,  Measure::film, Measure::solution,
                                 Measure::panel, Measure::facts, Measure::time};
      if (std::ranges::find(names, which) == names.end()) {
        CAPTURE(measure);
        CHECK(value(say::number("n", which, none)) == "-");
        CHECK(value({"n", which, {}, {}, {}, {}}) == "-");
      }
    }
    for (const Manner manner : {english, german}) {
      const auto dropped = support::said({"alerts.broker-dropping", {say::count("messages", 0)}}, manner);
      for (const std::optional<double> count : {std::optional<double>{none}, std::optional<double>{}}) {
        auto expected = dropped;
        expected.replace(expected.find('0'), 1, "-");
        const Value messages{"messages", Measure::count, count, {}, {}, {}};
        CHECK(support::said({"alerts.broker-dropping", {messages}}, manner) == expected);
      }
    }
  }
  CHECK(words.share(std::numeric_limits<double>::quiet_NaN()) == "-");
  CHECK(value({"t", Measure::time, {}, {}, {}, {}}) == "-");
}

TEST_CASE("figures: two, and three decimals at most") {
  const auto words = support::words();
  CHECK(words.figure(0.005) == "0.005");  // a wet share may be set to 0.001 to 1
  CHECK(words.figure(0.05) == "0.05");
  CHECK(words.figure(0.0344) == "0.034");
  CHECK(words.figure(0.25) == "0.25");
  CHECK(words.figure(3.14) == "3.1");
  CHECK(words.figure(12.4) == "12");
}

TEST_CASE("units by their signs") {
  CHECK(support::words().unit_symbol(Unit::celsius) == "°C");
  CHECK(support::words().unit_symbol(Unit::fahrenheit) == "°F");
  CHECK(support::words().unit_symbol(Unit::kelvin) == "K");
  CHECK(support::words().unit_symbol(Unit::percent) == "%");
  CHECK(support::words(german).unit_symbol(Unit::fraction) == "Anteil");
  CHECK(support::words(american).degree() == "°F");
  CHECK(support::words(american).in_scale(25.0) == 77.0);
  CHECK(support::words().in_scale(25.0) == 25.0);
}

TEST_CASE("singular and plural are the language's own") {
  const auto dropped = [](int n, Manner manner) {
    return support::said({"alerts.broker-dropping", {say::count("messages", n)}}, manner);
  };
  CHECK(dropped(1, english) == "The broker has dropped 1 message since it was last asked.");
  CHECK(dropped(2, english) == "The broker has dropped 2 messages since it was last asked.");
  CHECK(dropped(1, german) == "Der Broker hat seit der letzten Abfrage 1 Nachricht verworfen.");
  CHECK(dropped(1200, german) == "Der Broker hat seit der letzten Abfrage 1.200 Nachrichten verworfen.");
}

TEST_CASE("outside is a place that has a word of its own, and is no bay") {
  const auto came_in = [](const std::string& bay, Manner manner) {
    return support::said({"record-events.came-in", {say::text("vehicle", "A 1"), say::text("bay", bay)}},
                         manner);
  };
  CHECK(came_in("front", english) == "A 1 came in, bay front");
  CHECK(came_in("outside", english) == "A 1 came in, outside");
  CHECK(came_in("front", german) == "A 1 angekommen, Box front");
  CHECK(came_in("outside", german) == "A 1 angekommen, draußen");
}

TEST_CASE("facts within facts, lists, and words of enumerations") {
  const auto zone = [](models::ZoneKind kind, double water) -> Fact {
    return {"limits.wet-zone",
            {say::word("zone", Words::word_key("zone", kind)), say::figure("water", Measure::water, water),
             say::figure("most", Measure::water, 2.0 * water)}};
  };
  const Fact wet{
      "limits.wet",
      {say::facts("zones", {zone(models::ZoneKind::edge, 3.1), zone(models::ZoneKind::recess, 11.0)})}};
  CHECK(support::said(wet) == "edge 3.1 g/m² (up to 6.2 g/m²), recess 11 g/m² (up to 22 g/m²)");
  CHECK(support::said(wet, german) ==
        "Kante 3,1 g/m² (bis zu 6,2 g/m²), Vertiefung 11 g/m² (bis zu 22 g/m²)");
  CHECK(support::words(german).sentence({"limits.no-film"}) == "Keine Folie verlegt");
  CHECK(support::words().word("zone", models::ZoneKind::turn) == "turned edge");
}

TEST_CASE("what holds a step back is told in shares, beside what is wanted") {
  const auto edge = say::word("zone", Words::word_key("zone", models::ZoneKind::edge));
  const auto said = [&](const char* key, std::vector<Value> values, Manner manner) {
    values.push_back(edge);
    return support::said({key, std::move(values)}, manner);
  };
  const std::vector<Value> bond{say::share("bond", 0.89), say::share("needed", 0.9)};
  CHECK(said("limits.bond", bond, english) == "edge: bond 89 %, 90 % wanted");
  CHECK(said("limits.bond", bond, german) == "Kante: Haftung 89 %, verlangt 90 %");
  CHECK(said("limits.weak", bond, english) == "water likely gone, but edge bond 89 %, 90 % wanted");
  CHECK(said("limits.weak", bond, german) == "Wasser wohl weg, aber Kante: Haftung 89 %, verlangt 90 %");
  const std::vector<Value> wet{say::share("share", 0.37), say::share("needed", 0.1)};
  CHECK(said("limits.wet-share", wet, english) == "edge: likely wet on 37 % of it, under 10 % wanted");
  CHECK(said("limits.wet-share", wet, german) == "Kante: wahrscheinlich zu 37 % nass, verlangt unter 10 %");
  CHECK(said("limits.unsure-wet", {say::share("most", 0.22)}, english) ==
        "edge: water likely gone, but not surely: up to 22 % of it may be wet");
  CHECK(support::said({"limits.no-estimate"}, german) == "die Schätzung wird erstellt");
}

TEST_CASE("a look is asked for at a piece, or at the whole vehicle") {
  const std::vector<Value> piece{
      say::text("vehicle", "demo-1"),
      say::fact("piece", {"words.piece",
                          {say::text("panel", "bonnet"), say::text("part", "1"), say::count("parts", 1)}}),
      say::word("ready", Words::word_key("ready", models::Milestone::wrap_ready))};
  CHECK(support::said({"alerts.worth-a-look", piece}) ==
        "demo-1, bonnet: worth a look. It may be ready to have its edges wrapped.");
  CHECK(support::said({"alerts.worth-a-look", piece}, german) ==
        "demo-1, bonnet: Nachsehen lohnt. Vielleicht ist es bereit zum Umlegen der Kanten.");
  CHECK(support::said({"alerts.look-at-vehicle", piece}, german) ==
        "demo-1: Nachsehen lohnt. Vielleicht darf es schon vom Hof.");
  for (const auto* word : {"wet", "hazy", "clear"}) {
    CAPTURE(word);
    CHECK(support::said({"advice.worth-a-look"}).find(word) != std::string::npos);
  }
}

TEST_CASE("every milestone, every wetness and every alert has its words in each language") {
  for (const Manner manner : {english, american, german}) {
    const auto words = support::words(manner);
    const auto known = [&](const std::string& key) {
      CAPTURE(key);
      CHECK(words.say(key) != key);
    };
    for (const auto which : dryclock::words<models::Milestone>) {
      known("words.ready-" + std::string{which});
    }
    for (const auto wetness : dryclock::words<models::Wetness>) {
      known("words.wetness-" + std::string{wetness});
    }
    for (const auto rule : {AlertRule::worth_a_look, AlertRule::piece_ready, AlertRule::release_ready}) {
      known("alerts." + std::string{name_of(rule)});
      known("advice." + std::string{name_of(rule)});
    }
  }
}

TEST_CASE(
    "a fact of a later program stands in the words that it was told with; one without any says nothing") {
  CHECK(support::said({"alerts.of-tomorrow", {}, "The moon is full."}) == "The moon is full.");
  CHECK(support::said({}).empty());
}

TEST_CASE("dates in the shop's zone and the reader's language") {
  const auto at = parse_rfc3339("2026-03-07T14:20:00Z").value();
  const auto in = [&](Manner manner) {
    return Words{manner, {}, LocalZone::find("Europe/Berlin").value()}.when(at);
  };
  CHECK(in(english) == "Sat 7 Mar 15:20");
  CHECK(in(german) == "Sa. 7. März 15:20");
  CHECK(in(american) == "Sat Mar 7 3:20 PM");
}

TEST_CASE("a weekday stands alone where no other is meant, else with its date") {
  const auto now = parse_rfc3339("2026-03-07T14:20:00Z").value();
  const auto at = [&](Millis away, Manner manner) {
    return Words{manner, {}, LocalZone::find("Europe/Berlin").value()}.when(now + away, now);
  };
  CHECK(at(minutes{0}, english) == "Sat 15:20");
  CHECK(at(hours{6 * 24} - minutes{1}, english) == "Fri 15:19");
  CHECK(at(-(hours{6 * 24} - minutes{1}), german) == "So. 15:21");
  CHECK(at(hours{8 * 24}, english) == "Sun 15 Mar 15:20");
  CHECK(at(-hours{8 * 24}, german) == "Fr. 27. Feb. 15:20");
  CHECK(at(hours{8 * 24}, american) == "Sun Mar 15 3:20 PM");
}

TEST_CASE("a sentence begins with a capital letter, whichever its alphabet") {
  CHECK(capital("edge") == "Edge");
  CHECK(capital("über") == "Über");
  CHECK(capital("").empty());
}

}  // namespace dryclock::wording
