#include "cli/event_text.hpp"

#include <doctest/doctest.h>

#include <tuple>

#include "cli/answer.hpp"
#include "cli/some_board.hpp"
#include "domain/event_fields.hpp"

using namespace dryclock;

namespace {

// The names of a shape's fields.
struct FieldNames {
  std::vector<std::string> names;
  void type(std::string_view /*name*/, std::string_view /*what*/) {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) {}
  void flat(const auto& what) { visit_fields(*this, what); }
  void operator()(std::string_view name, const auto& /*what*/, const auto&... /*marks*/) {
    names.emplace_back(name);
  }
  void optional(std::string_view name, const auto& what, const auto&... /*marks*/) { (*this)(name, what); }
};

template <std::size_t... kind>
std::vector<std::string> all_fields(std::index_sequence<kind...> /*kinds*/) {
  FieldNames all;
  const std::tuple<std::variant_alternative_t<kind, EventDetail>...> kinds_of_event{};
  (visit_fields(all, std::get<kind>(kinds_of_event)), ...);
  const SensorRead read;
  visit_fields(all, read);
  return std::move(all.names);
}

}  // namespace

TEST_CASE("events come as they are, with what they have of their own in one line") {
  const auto events =
      cli::understood<EventsAnswer>(
          R"({"events":[{"seq":9,"entered":"2026-03-01T06:41:00.000Z","what":"inspected","at":"2026-03-01T06:40:00.000Z",)"
          R"("who":"AB","piece":12,"zone":"edge","finding":"clear"}]})")
          .events;
  REQUIRE(events.size() == 1);
  CHECK(events[0].seq == 9);
  CHECK(events[0].who == "AB");
  const auto words = test::some_words();
  CHECK(cli::event_text(events[0].detail, words) == "piece 12, zone edge, finding clear");
  CHECK(cli::event_text(HeatApplied{12, HeatSource::lamp, 54.444444, 3.0}, words) ==
        "piece 12, source lamp, surface 54.4 °C, 3 min, tool 2,000 W");
  HeatApplied valley{12, HeatSource::heat_gun, 55.0, 3.0};
  valley.zone = models::ZoneKind::recess;
  valley.area_m2 = 0.25;
  valley.tool_w = 1500.0;
  CHECK(cli::event_text(valley, words) ==
        "piece 12, source heat gun, surface 55 °C, 3 min, zone recess, area 0.25 m², tool 1,500 W");
  CHECK(cli::event_text(NotNeeded{12, models::Milestone::trim_ready}, words) == "piece 12, step trim-ready");
  CHECK(cli::event_text(NotNeeded{12, models::Milestone::trim_ready, true}, words) ==
        "piece 12, step trim-ready, needed yes");
  CHECK(cli::event_text(Planned{3, {{"bonnet"}, {"sill", 2, 2}}}, words) ==
        "vehicle 3, pieces bonnet + sill 2/2");
  CHECK(cli::event_text(LearnAnew{parse_rfc3339("2026-03-01T06:40:00Z").value()}, words) ==
        "since 2026-03-01 07:40");
  const auto german = test::some_words(Language::german);
  CHECK(cli::event_text(events[0].detail, german) == "Stück 12, Zone Kante, Befund klar");
  CHECK(cli::event_text(Planned{3, {{"bonnet"}, {"sill", 2, 2}}}, german) ==
        "Fahrzeug 3, Stücke Motorhaube + sill 2/2");
  SensorAssigned assigned;
  assigned.sensor = "loft";
  assigned.bay = "back";
  assigned.tolerance_pct = 2.0 / 3.0;
  SensorRead read;
  read.topic = "a/t";
  read.unit = Unit::fahrenheit;
  assigned.reads = {read};
  const auto told = cli::event_text(assigned, words);
  CHECK(told.find("tolerance 0.7 %RH") != std::string::npos);
  CHECK(told.find("unit °F") != std::string::npos);
  CHECK(cli::event_text(CouponWeighed{4, 81.23456}, words) == "coupon 4, 81.23 g");
  PlateSeen seen{7, models::ZoneKind::edge, PlateSign::tenth_wet};
  seen.course = PlateCourse{{1.0, 2.0}, 3.0};  // for the estimate, and for no person
  CHECK(cli::event_text(seen, words) == "witness plate 7, zone edge, seen: a tenth wet");
  Lay lay;
  lay.panel = "bonnet";
  CHECK(cli::event_text(lay, words).find("area") == std::string::npos);  // 0: as the catalogue says
  CHECK(cli::event_text(lay, german).find("Fläche") == std::string::npos);
  lay.area_m2 = 1.25;
  CHECK(cli::event_text(lay, german).find("Fläche 1,25 m²") != std::string::npos);
  CHECK(cli::event_text(LampSwitched{3, true, 712.5}, german) ==
        "Fahrzeug 3, eingeschaltet: ja, Wärme 712,5 W/m²");
  CHECK(cli::event_text(LampSwitched{3, false, 0.0}, german) == "Fahrzeug 3, eingeschaltet: nein");
}

TEST_CASE("each kind of event and each of its fields has its word, in every language") {
  const auto fields = all_fields(std::make_index_sequence<std::variant_size_v<EventDetail>>{});
  CHECK(fields.size() > 80);
  for (const auto language : {Language::english_uk, Language::english_us, Language::german}) {
    const auto words = test::some_words(language);
    const auto is_said = [&](const std::string& key) {
      CAPTURE(key);
      CHECK(words.say(key) != key);
    };
    for (const auto& field : fields) {
      is_said("client-events." + field);
    }
    for (const auto name : event_names) {
      is_said("client-events.what-" + std::string{name});
    }
  }
}
