// The fields of the settings: see domain/field.hpp. Names and units are for ever, since rows are: a field may
// be added, with a default that means what was so before it; none may change its meaning.
#pragma once

#include "domain/configured.hpp"
#include "domain/event_fields.hpp"
#include "domain/redated.hpp"

namespace dryclock::models {

void visit_fields(auto& f, Of<Layer> auto& s) {
  f.type("Layer", "of a film, from the adhesive out");
  f("name", s.name);
  f("thickness_m", s.thickness);
  f("permeability", s.permeability, "kg/(m s Pa) at 21 C");
  f("sorption", s.sorption, "kg/m3");
  f("activation_energy", s.activation_energy);
}
void visit_fields(auto& f, Of<FilmStack> auto& s) {
  f.type("FilmStack", "what vapour passes through");
  f("layers", s.layers);
  f("ln_resistance_spread", s.ln_resistance_spread);
}
void visit_fields(auto& f, Of<PanelThermal> auto& s) {
  f.type("PanelThermal", "how a panel takes heat");
  f("heat_capacity", s.heat_capacity, "J/(m2 K)");
  f("transfer", s.transfer, "W/(m2 K)");
  f("sides", s.sides);
  f("body_heat_capacity", s.body_heat_capacity);
  f("body_transfer", s.body_transfer);
}
void visit_fields(auto& f, Of<Thresholds> auto& s) {
  f("gone_wet", s.gone_wet);
  f("clear_wet", s.clear_wet);
  f("pocket_wet", s.pocket_wet);
  f("wrap_excess", s.wrap_excess);
  f("wrap_bond", s.wrap_bond);
  f("trim_excess", s.trim_excess);
  f("trim_bond", s.trim_bond);
  f("refit_bond", s.refit_bond);
  f("leave_bond", s.leave_bond);
  f("strength_bond", s.strength_bond);
}

}  // namespace dryclock::models

namespace dryclock {

void visit_fields(auto& f, Of<FilmEntry> auto& s) {
  f.type("Film", "of the catalogue");
  f("key", s.key);
  f("label", s.label_uk);  // named as in rows of before there were other languages
  f("label_us", s.label_us);
  f("label_de", s.label_de);
  f("stack", s.stack);
  f("data_sheet", s.data_sheet);
}
void visit_fields(auto& f, Of<SolutionEntry> auto& s) {
  f.type("Solution", "of the catalogue");
  f("key", s.key);
  f("label", s.label_uk);  // named as in rows of before there were other languages
  f("label_us", s.label_us);
  f("label_de", s.label_de);
  f("alcohol_fraction", s.solution.alcohol_fraction);
  f("data_sheet", s.data_sheet);
}
void visit_fields(auto& f, Of<PanelEntry> auto& s) {
  f.type("Panel", "of the catalogue");
  f("key", s.key);
  f("label_uk", s.label_uk);
  f("label_us", s.label_us);
  f("label_de", s.label_de);
  f("area_m2", s.area_m2);
  f("thermal", s.thermal);
  f("zones", s.zones);
  f("sides", s.sides, "those of it that a vehicle has; empty: there is one; null: nobody said");
  f("steps", s.steps, "that are done on it, of wrap-ready, trim-ready and refit-ready");
}
void visit_fields(auto& f, Of<TemplateEntry> auto& s) {
  f.type("Template", "a usual set of pieces, to plan a vehicle with");
  f("key", s.key);
  f("label_uk", s.label_uk);
  f("label_us", s.label_us);
  f("label_de", s.label_de);
  f("pieces", s.pieces);
}
void visit_fields(auto& f, Of<Catalogue> auto& s) {
  f("films", s.films);
  f("solutions", s.solutions);
  f("panels", s.panels);
  f("templates", s.templates);
  f("water", s.water, "by zone, then by how wet it was pulled, both in the order of their words, g/m2");
}
void visit_fields(auto& f, Of<BaySetup> auto& s) {
  f("name", s.name);
  f("cold_below_c", s.cold_below_c);
  f("damp_above_pct", s.damp_above_pct);
  f("volume_m3", s.volume_m3);
  f("heated", s.heated);
}
void visit_fields(auto& f, Of<SensorMapping> auto& s) {
  f("sensor", s.sensor);
  f("bay", s.bay);
  f("topic", s.topic);
  f("quantity", s.quantity);
  f("pointer", s.pointer);
  f("unit", s.unit);
  f("slope", s.slope);
  f("offset", s.offset);
  f("time_pointer", s.time_pointer);
}
void visit_fields(auto& f, Of<SensorAbout> auto& s) {
  f("sensor", s.sensor);
  f("model", s.model);
  f("place", s.place);
}
void visit_fields(auto& f, Of<ScreenLimits> auto& s) {
  f("air_min_c", s.air_min_c);
  f("air_max_c", s.air_max_c);
  f("panel_min_c", s.panel_min_c);
  f("panel_max_c", s.panel_max_c);
  f("air_jump_c_per_min", s.air_jump_c_per_min);
  f("rh_jump_pct_per_min", s.rh_jump_pct_per_min);
  f("spike_confirmations", s.spike_confirmations);
  f("stuck_after_ms", s.stuck_after);
  f("skew_limit_ms", s.skew_limit);
}
void visit_fields(auto& f, Of<AlertSettings> auto& s) {
  f("dwell_ms", s.dwell);
  f("silent_after_ms", s.silent_after);
  f("cold_hysteresis_c", s.cold_hysteresis_c);
  f("damp_hysteresis_pct", s.damp_hysteresis_pct);
  f("dew_margin_k", s.dew_margin_k);
  f("slip_margin_ms", s.slip_margin);
  f("sprayed_g_m2", s.sprayed_g_m2);
}
void visit_fields(auto& f, Of<Site> auto& s) {
  f.type("Site", "the shop");
  f("name", s.name);
  f("time_zone", s.time_zone, "IANA name");
  f.flat(s.manner);
}
void visit_fields(auto& f, Of<Setup> auto& s) {
  f("site", s.site);
  f("bays", s.bays);
  f("mappings", s.mappings);
  f("sensors", s.sensors);
  f("catalogue", s.catalogue);
  f("thresholds", s.thresholds);
  f("screen", s.screen);
  f("alerts", s.alerts);
  f("announce_level", s.announce_level);
  f("least_indoor_ms", s.least_indoor);
  f("bridge_after_ms", s.bridge_after);
}
void visit_fields(auto& f, Of<RefusedRow> auto& s) {
  f("row", s.row);
  f("why", s.why);
}
void visit_fields(auto& f, Of<Configured> auto& s) {
  f("program", s.program);
  f("settings_sha256", s.settings_sha256);
  f("assumed", s.assumed);
  f("refused", s.refused);
  f("settings", s.setup);
}
void visit_fields(auto& f, Of<Redated> auto& s) {
  f("boot", s.boot);
  f("booted", s.booted);
  f("first", s.first);
  f("last", s.last);
  f("by_ms", s.by);
  f("why", s.why);
}

}  // namespace dryclock
