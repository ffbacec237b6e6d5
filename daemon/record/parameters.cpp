#include "record/parameters.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>

#include "base/time.hpp"
#include "domain/names.hpp"
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

void add_film(std::vector<Parameter>& out, const FilmEntry& film) {
  for (const auto& layer : film.stack.layers) {
    // The shipped catalogue's basis; a catalogue of the user's own stands on the user's data.
    const bool datum = layer.name == "film" || layer.name == "adhesive";
    const std::string source = datum ? "film catalogue; PVDegradationTools" : "film catalogue; assumption";
    const auto name = [&](const char* what) {
      return fmt::format("film {}, {}: {}", film.key, layer.name, what);
    };
    out.push_back({name("thickness"), micrometres(layer.thickness), "um", "film catalogue; assumption"});
    out.push_back({name("permeability at 21 C"), layer.permeability.value(), "kg/(m s Pa)", source});
    out.push_back({name("water at saturation"), layer.sorption, "kg/m3", source});
    out.push_back({name("activation energy"), layer.activation_energy, "J/mol", "PVDegradationTools"});
  }
  out.push_back({fmt::format("film {}: spread of ln resistance", film.key), film.stack.ln_resistance_spread,
                 "1", assumption});
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
  std::set<std::string> films, solutions, panels;
  std::set<std::pair<models::ZoneKind, models::Wetness>> laid;
  for (const auto& piece : record.pieces) {
    const auto& summary = piece.summary;
    if (const auto* film = engine::find_film(setup.catalogue, summary.film);
        film != nullptr && films.insert(film->key).second) {
      add_film(out, *film);
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
