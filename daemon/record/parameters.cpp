#include "record/parameters.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <set>

#include "base/time.hpp"
#include "domain/fact.hpp"
#include "engine/film_measures.hpp"
#include "engine/piece_spec.hpp"
#include "models/laid_piece.hpp"
#include "models/lanes.hpp"
#include "models/shop_levels.hpp"
#include "record/shown_rows.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

constexpr double usual_c = 21.0;  // at which films are told
constexpr double bond_c = 20.0;

Fact configuration() {
  return {"record-figures.configuration"};
}
Fact assumption() {
  return {"record-figures.assumption"};
}
Fact practice() {
  return {"record-figures.practice"};
}
// Unit symbols and keys of models/SOURCES.md are the same in every language.
Fact symbol(std::string text) {
  return ready_words(std::move(text));
}
Fact catalogued(std::string source) {
  return {"record-figures.film-catalogue", {say::text("key", std::move(source))}};
}

// To the nanometre: what a catalogue says, without the rounding of its unit.
double micrometres(models::Metres thickness) {
  return std::round(thickness.value() * 1e9) / 1e3;
}
double in_hours(Millis span) {
  return std::chrono::duration<double, std::ratio<3600>>(span).count();
}
double minutes(Millis span) {
  return std::chrono::duration<double, std::ratio<60>>(span).count();
}

// What was scaled has no meaning beyond that.
double six_digits(double value) {
  const auto text = fmt::format("{:.5e}", value);
  double rounded = value;
  (void)std::from_chars(text.data(), text.data() + text.size(), rounded);
  return rounded;
}

// Where the figure of a measured film is from.
Fact measured_by(const MeasuredFilm& measured) {
  const auto& film = measured.film;
  const auto row = say::text("row", std::to_string(measured.event));
  return film.coupon ? Fact{"record-figures.measured-coupon",
                            {say::text("coupon", std::to_string(*film.coupon)),
                             say::count("weighings", film.weighings), row}}
                     : Fact{"record-figures.measured-row", {row}};
}

// A film as a piece was reckoned with it: the catalogue's, or scaled to what was measured of it.
Value film_value(const FilmEntry& film, const MeasuredFilm* measured) {
  const auto key = say::text("key", film.key);
  if (measured == nullptr) {
    return say::fact("film", {"record-figures.film", {key}});
  }
  const auto& lot = measured->film.lot;
  return say::fact("film", lot.empty()
                               ? Fact{"record-figures.film-measured", {key}}
                               : Fact{"record-figures.film-measured-lot", {key, say::text("lot", lot)}});
}

void add_layer(std::vector<Parameter>& out, const Value& film, const models::Layer& layer, bool measured) {
  // The shipped catalogue's basis; a catalogue of the user's own stands on the user's data.
  constexpr const char* basis = "PVDegradationTools";
  const bool datum = layer.name == "film" || layer.name == "adhesive";
  const Fact assumed{"record-figures.film-catalogue-assumption"};
  const Fact source = datum ? catalogued(basis) : assumed;
  const auto name = [&](const char* key) { return Fact{key, {film, say::text("layer", layer.name)}}; };
  auto permeability_name = name("record-figures.permeability");
  permeability_name.values.push_back(say::celsius("at", usual_c));
  const double permeability = layer.permeability.value();
  out.push_back(
      {name("record-figures.thickness"), micrometres(layer.thickness), symbol("\xC2\xB5m"), assumed});
  out.push_back({std::move(permeability_name), measured ? six_digits(permeability) : permeability,
                 symbol("kg/(m s Pa)"), measured ? Fact{"record-figures.measured-share"} : source});
  out.push_back({name("record-figures.sorption"), layer.sorption, symbol("kg/m\xC2\xB3"), source});
  out.push_back(
      {name("record-figures.activation-energy"), layer.activation_energy, symbol("J/mol"), symbol(basis)});
}

// How the coupon's water lay.
void add_tail(std::vector<Parameter>& out, const Value& film, const MeasuredFilm& measured) {
  const auto lies = models::water_lies(engine::tail_of(measured.film));
  const auto add = [&](const char* key, double ln, double sd, Fact unit) {
    out.push_back({{key, {film, say::figure("factor", Measure::figure, std::exp(sd))}},
                   std::round(std::exp(ln) * 1000.0) / 1000.0,
                   std::move(unit),
                   measured_by(measured)});
  };
  add("record-figures.tail-spread", lies.ln_spread, lies.spread_sd, {});
  add("record-figures.tail-break-up", lies.ln_break_up, lies.break_up_sd, symbol("g/m\xC2\xB2"));
}

void add_film(std::vector<Parameter>& out, const FilmEntry& entry, const MeasuredFilm* measured) {
  const auto film = film_value(entry, measured);
  const auto stack = measured == nullptr ? entry.stack : engine::scaled(entry.stack, measured->film);
  Fact spread_source = assumption();
  if (measured != nullptr) {
    const Fact source = measured_by(*measured);
    out.push_back({{"record-figures.resistance", {film, say::celsius("at", usual_c)}},
                   measured->film.resistance,
                   symbol("m\xC2\xB2 s Pa/kg"),
                   source});
    out.push_back({{"record-figures.uncertainty", {film}}, measured->film.relative_uncertainty, {}, source});
    spread_source = {"record-figures.measured-floor",
                     {say::fact("measured", source),
                      say::figure("least", Measure::figure, engine::least_measured_spread)}};
  }
  if (measured != nullptr && !measured->film.tail.empty()) {
    add_tail(out, film, *measured);
  }
  for (const auto& layer : stack.layers) {
    add_layer(out, film, layer, measured != nullptr);
  }
  out.push_back(
      {{"record-figures.spread", {film}}, stack.ln_resistance_spread, {}, std::move(spread_source)});
}

// What somebody saw on a witness plate, which the estimate has learnt from.
void add_plate(std::vector<Parameter>& out, const PlateView& plate) {
  std::vector<Fact> seen;
  for (const auto& look : plate.seen) {
    seen.push_back({"record-figures.plate-look",
                    {say::word("zone", Words::word_key("zone", look.zone)),
                     say::word("sign", Words::word_key("plate", look.sign)), say::time("at", look.at)}});
  }
  const auto row = say::text("plate", std::to_string(plate.id));
  out.push_back({{"record-figures.plate-looks", {row, say::text("key", plate.plate.film)}},
                 static_cast<double>(plate.seen.size()),
                 {},
                 {"record-figures.plate-seen",
                  {row, say::count("n", plate.seen.size()), say::facts("seen", std::move(seen))}}});
}

void add_water(std::vector<Parameter>& out,
               const std::set<std::pair<models::ZoneKind, models::Wetness>>& laid, const WaterTable& water) {
  for (const auto& [zone, wetness] : laid) {
    out.push_back({{"record-figures.water",
                    {say::word("zone", Words::word_key("zone", zone)),
                     say::word("wetness", Words::word_key("wetness", wetness))}},
                   water[static_cast<std::size_t>(zone)][static_cast<std::size_t>(wetness)],
                   symbol("g/m\xC2\xB2"),
                   assumption()});
  }
}

void add_rules(std::vector<Parameter>& out, const Setup& setup) {
  const auto& t = setup.thresholds;
  const models::LaidSpec usual;
  const models::ShopLevels levels;
  const models::WaterWorld world;
  const Fact none, layer = symbol("g/m\xC2\xB2"),
                   at_bond_hours{"record-figures.hours-at", {say::celsius("at", bond_c)}};
  out.insert(out.end(),
             {{{"record-figures.gone-wet"}, t.gone_wet, none, configuration()},
              {{"record-figures.clear-wet"}, t.clear_wet, none, configuration()},
              {{"record-figures.pocket-wet"}, t.pocket_wet, none, configuration()},
              {{"record-figures.wrap-excess"}, t.wrap_excess, none, configuration()},
              {{"record-figures.wrap-bond"}, t.wrap_bond, none, configuration()},
              {{"record-figures.trim-excess"}, t.trim_excess, none, configuration()},
              {{"record-figures.trim-bond"}, t.trim_bond, none, configuration()},
              {{"record-figures.refit-bond"}, t.refit_bond, none, configuration()},
              {{"record-figures.leave-bond"}, t.leave_bond, none, configuration()},
              {{"record-figures.strength-bond"}, t.strength_bond, none, configuration()},
              {{"record-figures.announced"}, setup.announce_level, none, configuration()},
              {{"record-figures.indoors"}, in_hours(setup.least_indoor), symbol("h"), practice()},
              {{"record-figures.silence"}, minutes(setup.bridge_after), symbol("min"), configuration()},
              {{"record-figures.lanes"}, static_cast<double>(models::members), none, assumption()},
              {{"record-figures.film-spread"}, levels.film, none, assumption()},
              {{"record-figures.water-spread"}, levels.water, none, assumption()},
              {{"record-figures.break-up"}, world.break_up, layer, assumption()},
              {{"record-figures.air-layer"},
               usual.air_layer_coefficient,
               symbol("m/s"),
               symbol("Cengel2003; ChiltonColburn1934")},
              {{"record-figures.bond-after", {say::share("share", 0.9)}}, 24.0, at_bond_hours, practice()},
              {{"record-figures.dew-margin"}, setup.alerts.dew_margin_k, symbol("K"), symbol("ISO8502-4")}});
}

void add_learned(std::vector<Parameter>& out, const LearnedView& learned) {
  if (learned.looks > 0) {
    out.push_back({{"record-figures.learned-water"},
                   six_digits(learned.water.likely),
                   {},
                   {"record-figures.learned-from",
                    {say::figure("low", Measure::figure, learned.water.low),
                     say::figure("high", Measure::figure, learned.water.high),
                     say::count("looks", learned.looks), say::count("pieces", learned.pieces)}}});
  }
}

}  // namespace

std::vector<Parameter> parameters_of(const Record& record, const Setup& setup) {
  std::vector<Parameter> out;
  std::set<std::pair<std::string, Seq>> films;  // with the measurement that counted, 0: none
  std::set<std::string> solutions, panels;
  std::set<std::pair<models::ZoneKind, models::Wetness>> laid;
  for (const auto& piece : record.pieces) {
    const auto& summary = piece.summary;
    if (const auto* film = engine::find_film(setup.catalogue, summary.film);
        film != nullptr && films.emplace(film->key, piece.measured ? piece.measured->event : 0).second) {
      add_film(out, *film, piece.measured ? &*piece.measured : nullptr);
    }
    if (const auto* solution = engine::find_solution(setup.catalogue, summary.solution);
        solution != nullptr && solutions.insert(solution->key).second) {
      out.push_back({{"record-figures.alcohol", {say::text("key", solution->key)}},
                     solution->solution.alcohol_fraction,
                     {},
                     configuration()});
    }
    const auto* panel = engine::find_panel(setup.catalogue, summary.panel);
    if (panel != nullptr && panels.insert(panel->key).second) {
      const auto name = say::panel("panel", panel->key);
      out.push_back({{"record-figures.heat-capacity", {name}},
                     panel->thermal.heat_capacity,
                     symbol("J/(m\xC2\xB2 K)"),
                     {"record-figures.panel-catalogue"}});
      out.push_back({{"record-figures.heat-transfer", {name}},
                     panel->thermal.transfer.value(),
                     symbol("W/(m\xC2\xB2 K)"),
                     {"record-figures.panel-catalogue-key", {say::text("key", "ISO6946")}}});
    }
    for (const auto zone : zones_of(piece)) {
      laid.emplace(zone, summary.wetness);
    }
  }
  for (const auto& plate : record.plates) {
    add_plate(out, plate);
  }
  add_water(out, laid, setup.catalogue.water);
  add_rules(out, setup);
  add_learned(out, record.learned);
  return out;
}

}  // namespace dryclock::record
