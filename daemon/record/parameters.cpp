#include "record/parameters.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <set>

#include "base/time.hpp"
#include "domain/names.hpp"
#include "engine/film_measures.hpp"
#include "engine/piece_spec.hpp"
#include "models/lanes.hpp"

namespace dryclock::record {
namespace {

constexpr const char* configuration = "configuration";
constexpr const char* assumption = "assumption";
constexpr const char* practice = "common practice, no source";

// To the nanometre: what a catalogue says, without the rounding of its unit.
double micrometres(models::Metres thickness) {
  return std::round(thickness.value() * 1e9) / 1e3;
}
double hours(Millis span) {
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
std::string measured_by(const MeasuredFilm& measured) {
  const auto& film = measured.film;
  return film.coupon ? fmt::format("coupon {}, {} weighings; told in row {}", *film.coupon, film.weighings,
                                   measured.event)
                     : fmt::format("measured; told in row {}", measured.event);
}

// A film as a piece was reckoned with it: the catalogue's, or scaled to what was measured of it.
void add_film(std::vector<Parameter>& out, const FilmEntry& film, const MeasuredFilm* measured) {
  auto key = "film " + film.key;
  if (measured != nullptr) {
    key +=
        measured->film.lot.empty() ? std::string{" as measured"} : " as measured, lot " + measured->film.lot;
  }
  const auto stack = measured == nullptr ? film.stack : engine::scaled(film.stack, measured->film);
  const auto measured_source = measured == nullptr ? "" : measured_by(*measured);
  if (measured != nullptr) {
    out.push_back({key + ": resistance at 21 C", measured->film.resistance, "m2 s Pa/kg", measured_source});
    out.push_back({key + ": standard uncertainty of it, relative", measured->film.relative_uncertainty, "1",
                   measured_source});
  }
  for (const auto& layer : stack.layers) {
    // The shipped catalogue's basis; a catalogue of the user's own stands on the user's data.
    const bool datum = layer.name == "film" || layer.name == "adhesive";
    const std::string source = datum ? "film catalogue; PVDegradationTools" : "film catalogue; assumption";
    const auto name = [&](const char* what) { return fmt::format("{}, {}: {}", key, layer.name, what); };
    out.push_back({name("thickness"), micrometres(layer.thickness), "um", "film catalogue; assumption"});
    const double permeability = layer.permeability.value();
    out.push_back({name("permeability at 21 C"),
                   measured == nullptr ? permeability : six_digits(permeability), "kg/(m s Pa)",
                   measured == nullptr ? source : "its share of the measured resistance"});
    out.push_back({name("water at saturation"), layer.sorption, "kg/m3", source});
    out.push_back({name("activation energy"), layer.activation_energy, "J/mol", "PVDegradationTools"});
  }
  out.push_back({key + ": spread of ln resistance", stack.ln_resistance_spread, "1",
                 measured == nullptr ? assumption
                                     : fmt::format("{}; not below {}, assumption", measured_source,
                                                   engine::least_measured_spread)});
}

void add_water(std::vector<Parameter>& out,
               const std::set<std::pair<models::ZoneKind, models::Wetness>>& laid, const WaterTable& water) {
  for (const auto& [zone, wetness] : laid) {
    const auto& range = water[static_cast<std::size_t>(zone)][static_cast<std::size_t>(wetness)];
    const auto name = fmt::format("water after the squeegee, {} {}: ", name_of(zone), name_of(wetness));
    out.push_back({name + "10 %", range.low, "g/m2", assumption});
    out.push_back({name + "50 %", range.likely, "g/m2", assumption});
    out.push_back({name + "90 %", range.high, "g/m2", assumption});
  }
}

void add_rules(std::vector<Parameter>& out, const Setup& setup) {
  const auto& t = setup.thresholds;
  const models::PieceSpec usual;
  out.insert(
      out.end(),
      {{"wrap-ready: excess in the film below", t.wrap_excess, "1", configuration},
       {"wrap-ready: bond from", t.wrap_bond, "1", configuration},
       {"trim-ready: excess in the film below", t.trim_excess, "1", configuration},
       {"trim-ready: bond from", t.trim_bond, "1", configuration},
       {"refit-ready: bond from", t.refit_bond, "1", configuration},
       {"dry: bond from", t.release_bond, "1", configuration},
       {"dry: mean water below", t.dry_below.value(), "g/m2", configuration},
       {"announced at a probability of", setup.announce_level, "1", configuration},
       {"least time indoors after the last piece", hours(setup.least_indoor), "h", practice},
       {"silence longer than this is a gap", minutes(setup.bridge_after), "min", configuration},
       {"members of the ensemble", static_cast<double>(models::members), "1", configuration},
       {"water layer breaks up below", usual.break_up.value(), "g/m2", assumption},
       {"air layer of a still bay", usual.air_layer_coefficient, "m/s", "Cengel2003; ChiltonColburn1934"},
       {"bond 50 % after", 20.0, "min at 23 C", practice},
       {"bond 90 % after", 24.0, "h at 23 C", practice},
       {"dew margin", setup.alerts.dew_margin_k, "K", "ISO8502-4"}});
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
      out.push_back({fmt::format("solution {}: alcohol by mass", solution->key),
                     solution->solution.alcohol_fraction, "1", configuration});
    }
    const auto* panel = engine::find_panel(setup.catalogue, summary.panel);
    if (panel != nullptr && panels.insert(panel->key).second) {
      out.push_back({fmt::format("panel {}: heat capacity", panel->key), panel->thermal.heat_capacity,
                     "J/(m2 K)", "panel catalogue"});
      out.push_back({fmt::format("panel {}: heat transfer to the air", panel->key),
                     panel->thermal.transfer.value(), "W/(m2 K)", "panel catalogue; ISO6946"});
    }
    for (const auto& zone : summary.state.zones) {
      laid.emplace(zone.kind, summary.wetness);
    }
  }
  add_water(out, laid, setup.catalogue.water);
  add_rules(out, setup);
  return out;
}

}  // namespace dryclock::record
