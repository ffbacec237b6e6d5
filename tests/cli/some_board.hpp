// A board with something of everything, for the tests of what the client reads and shows.
#pragma once

#include "domain/answers.hpp"
#include "domain/view.hpp"
#include "wording/words.hpp"

namespace dryclock::test {

inline bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

inline Time at(const char* text) {
  return parse_rfc3339(text).value();
}

inline MilestoneView& milestone(PieceSummary& piece, models::Milestone which) {
  return piece.milestones[static_cast<std::size_t>(which)];
}

inline PieceSummary piece(PieceId id, std::string panel, int part = 1, int parts = 1) {
  PieceSummary p;
  p.id = id;
  p.panel = std::move(panel);
  p.part = part;
  p.parts = parts;
  p.film = "baseline";
  p.solution = "slip";
  p.laid = at("2026-02-28T14:20:00Z");
  p.as_of = at("2026-03-01T06:39:00Z");
  p.standard_hours = 7.25;
  for (std::size_t m = 0; m < models::milestone_kinds; ++m) {
    p.milestones[m].which = static_cast<models::Milestone>(m);
  }
  ZoneView zone;
  zone.kind = models::ZoneKind::edge;
  zone.water = {0.1, 0.4, 1.5};
  zone.wet_share = {0.02, 0.12, 0.3};
  zone.gone_probability = 0.42;
  zone.validity = models::condensing | models::bridged_gap;
  p.state.zones.push_back(zone);
  p.state.panel = models::Celsius{17.5};
  return p;
}

inline Board some_board() {
  Board board;
  board.now = at("2026-03-01T06:40:00Z");
  board.applied = 77;
  BaySummary bay;
  bay.name = "front";
  bay.air_c = 18.4;
  bay.rh_pct = 61.0;
  bay.dew_point_c = 10.7;
  bay.pace = 0.72;
  bay.as_of = at("2026-03-01T06:39:00Z");
  bay.sensors.push_back({"front-air", "front", Quantity::air_temperature, 18.4, bay.as_of, Verdict::ok, {}});
  board.bays.push_back(bay);

  VehicleSummary one;
  one.id = 3;
  one.reference = "demo-1";
  one.bay = "front";
  one.arrived = at("2026-02-28T08:00:00Z");
  one.hand_over = at("2026-03-01T16:00:00Z");
  one.hand_over_probability = 0.87;
  one.release_probability = 0.004;
  one.release_announces = at("2026-03-01T15:10:00Z");
  one.full_strength = at("2026-03-04T11:00:00Z");
  one.release_expected = {at("2026-03-01T08:00:00Z"), at("2026-03-01T10:30:00Z"), std::nullopt};
  one.held_by = {"limits.no-film"};
  auto bonnet = piece(12, "bonnet");
  bonnet.wrapped = at("2026-03-01T06:30:00Z");
  milestone(bonnet, models::Milestone::trim_ready).announced = at("2026-03-01T06:10:00Z");
  milestone(bonnet, models::Milestone::trim_ready).probability = 0.93;
  auto& refit = milestone(bonnet, models::Milestone::refit_ready);
  refit.announces = at("2026-03-01T12:20:00Z");
  refit.expected.likely = at("2026-03-01T09:10:00Z");
  const auto edge = say::word("zone", "words.zone-edge");
  refit.held_by = {"limits.bond", {edge, say::share("bond", 0.62), say::share("needed", 0.75)}};
  bonnet.early_steps.push_back({44,
                                "edge-wrapped",
                                0.4,
                                {"limits.wet",
                                 {say::facts("zones", {{"limits.wet-zone",
                                                        {edge, say::figure("water", Measure::water, 0.4),
                                                         say::figure("most", Measure::water, 1.5)}}})}}});
  one.pieces = {bonnet, piece(13, "front-bumper", 1, 2), piece(14, "front-bumper", 2, 2)};
  auto pulled = piece(10, "mirror");
  pulled.removed = at("2026-02-28T15:00:00Z");
  one.pieces.push_back(pulled);
  board.vehicles.push_back(one);

  VehicleSummary gone;
  gone.id = 1;
  gone.reference = "demo-0";
  gone.bay = "outside";
  gone.arrived = at("2026-02-25T08:00:00Z");
  gone.released = at("2026-02-27T16:00:00Z");
  gone.pieces.push_back(piece(2, "bonnet"));
  board.vehicles.push_back(gone);

  board.alerts.push_back({"bay-cold/front",
                          AlertRule::bay_cold,
                          "front",
                          AlertLevel::warning,
                          at("2026-03-01T03:00:00Z"),
                          std::nullopt,
                          std::nullopt,
                          {"alerts.bay-cold",
                           {say::text("bay", "front"), say::celsius("air", 9.8), say::celsius("limit", 12.0),
                            say::span("for", std::chrono::hours{2})}},
                          {"advice.bay-cold"}});
  board.counters.readings = 1234;
  return board;
}

inline CatalogueView some_shop() {
  CatalogueView shop;
  shop.site.name = "Demo shop";
  shop.site.time_zone = "Europe/Berlin";
  shop.films = {{"baseline", "150 µm, with topcoat", "", "150 µm, mit Deckschicht", {}}};
  shop.solutions = {{"slip", "Slip: water", "", "Gleitlösung: Wasser", {}}};
  const auto panel = [&](const char* key, const char* uk, const char* us, const char* de) {
    auto& entry = shop.panels.emplace_back();
    entry.key = key;
    entry.label_uk = uk;
    entry.label_us = us;
    entry.label_de = de;
  };
  panel("bonnet", "bonnet", "hood", "Motorhaube");
  panel("front-bumper", "front bumper", "front bumper", "Stoßfänger vorn");
  panel("front-wing", "front wing", "front fender", "Kotflügel");
  panel("mirror", "mirror", "mirror", "");
  return shop;
}

// The shop's words, in Berlin.
inline wording::Words some_words(Language language = Language::english_uk,
                                 TemperatureScale scale = TemperatureScale::celsius) {
  return {{language, scale}, wording::entries_of(some_shop()), LocalZone::find("Europe/Berlin").value()};
}

}  // namespace dryclock::test
