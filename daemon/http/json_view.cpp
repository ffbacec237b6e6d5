#include "http/json_view.hpp"

#include <array>
#include <utility>

#include "domain/names.hpp"

namespace dryclock::http {

// The parts are static, not in an unnamed namespace: write_field finds them by their JsonWriter
// argument only so.

static void write(JsonWriter& json, const models::Quantiles& quantiles) {
  json.begin_object();
  json.field("low", quantiles.low);
  json.field("likely", quantiles.likely);
  json.field("high", quantiles.high);
  json.end_object();
}

static void write(JsonWriter& json, const models::Range& range) {
  write(json, models::Quantiles{range.low, range.likely, range.high});
}

static void write(JsonWriter& json, const Spread& spread) {
  json.begin_object();
  json.field("early", spread.early);
  json.field("likely", spread.likely);
  json.field("late", spread.late);
  json.end_object();
}

// The flags as a list of words; empty is good.
static void write_validity(JsonWriter& json, std::uint8_t validity) {
  json.key("validity");
  json.begin_array();
  for (const auto& [flag, word] : validity_names) {
    if ((validity & flag) != 0) {
      json.value(word);
    }
  }
  json.end_array();
}

// Counts by the words of the enumeration that indexes them.
template <class E, std::size_t n>
static void write_counts(JsonWriter& json, std::string_view name,
                         const std::array<std::uint64_t, n>& counts) {
  static_assert(n == words<E>.size());
  json.key(name);
  json.begin_object();
  for (std::size_t i = 0; i < n; ++i) {
    json.field(words<E>[i], counts[i]);
  }
  json.end_object();
}

static void write(JsonWriter& json, const models::ZoneView& zone) {
  json.begin_object();
  json.field("kind", name_of(zone.kind));
  write_field(json, "water", zone.water);
  write_field(json, "excess", zone.excess);
  write_field(json, "bond", zone.bond);
  write_field(json, "hours_to_go", zone.hours_to_go);
  json.field("dry_probability", zone.dry_probability);
  write_validity(json, zone.validity);
  json.end_object();
}

static void write(JsonWriter& json, const models::PieceView& state) {
  json.begin_object();
  write_field(json, "zones", state.zones);
  json.field("panel_c", state.panel.value());
  write_validity(json, state.validity);
  json.end_object();
}

// `limiting`: the kind of the zone that holds the milestone back.
static void write(JsonWriter& json, const MilestoneView& milestone, const models::PieceView& state) {
  json.begin_object();
  json.field("which", name_of(milestone.which));
  json.field("probability", milestone.probability);
  json.field("announced", milestone.announced);
  write_field(json, "expected", milestone.expected);
  json.field("held_by", milestone.held_by);
  const std::size_t limiting = state.limiting_zone[static_cast<std::size_t>(milestone.which)];
  json.key("limiting_zone");
  if (limiting < state.zones.size()) {
    json.value(name_of(state.zones[limiting].kind));
  } else {
    json.null();
  }
  json.end_object();
}

static void write(JsonWriter& json, const EarlyStep& early) {
  json.begin_object();
  json.field("event", early.event);
  json.field("step", early.step);
  json.field("probability", early.probability);
  json.field("still_wet", early.still_wet);
  json.end_object();
}

static void write(JsonWriter& json, const PieceNotes& notes) {
  json.begin_object();
  json.field("tension", notes.tension);
  json.field("relief_cuts", notes.relief_cuts);
  json.field("joins", notes.joins);
  json.end_object();
}

static void write(JsonWriter& json, const PieceSummary& piece) {
  json.begin_object();
  json.field("id", piece.id);
  json.field("panel", piece.panel);
  json.field("part", piece.part);
  json.field("parts", piece.parts);
  json.field("film", piece.film);
  json.field("solution", piece.solution);
  json.key("gone");
  json.begin_array();
  for (const auto& kind : piece.gone) {
    json.value(kind);
  }
  json.end_array();
  json.field("wetness", name_of(piece.wetness));
  json.field("laid", piece.laid);
  json.field("wrapped", piece.wrapped);
  json.field("trimmed", piece.trimmed);
  json.field("refitted", piece.refitted);
  json.field("removed", piece.removed);
  json.field("replaced_by", piece.replaced_by);
  json.field("replaces", piece.replaces);
  write_field(json, "notes", piece.notes);
  write_field(json, "state", piece.state);
  json.field("as_of", piece.as_of);
  json.field("standard_hours", piece.standard_hours);
  json.key("milestones");
  json.begin_array();
  for (const auto& milestone : piece.milestones) {
    write(json, milestone, piece.state);
  }
  json.end_array();
  write_field(json, "early_steps", piece.early_steps);
  json.end_object();
}

static void write(JsonWriter& json, const SensorSummary& sensor) {
  json.begin_object();
  json.field("sensor", sensor.sensor);
  json.field("bay", sensor.bay);
  json.field("quantity", name_of(sensor.quantity));
  json.field("value", sensor.value);
  json.field("at", sensor.at);
  json.field("last_verdict", name_of(sensor.last_verdict));
  write_counts<Verdict>(json, "counts", sensor.counts);
  json.end_object();
}

static void write(JsonWriter& json, const BaySummary& bay) {
  json.begin_object();
  json.field("name", bay.name);
  json.field("gone", bay.gone);
  json.field("air_c", bay.air_c);
  json.field("rh_pct", bay.rh_pct);
  json.field("panel_c", bay.panel_c);
  json.field("dew_point_c", bay.dew_point_c);
  json.field("vapour_density_gm3", bay.vapour_density_gm3);
  json.field("pace", bay.pace);
  json.field("as_of", bay.as_of);
  write_field(json, "sensors", bay.sensors);
  json.end_object();
}

static void write(JsonWriter& json, const Counters& counters) {
  json.begin_object();
  json.field("messages", counters.messages);
  json.field("readings", counters.readings);
  json.field("events", counters.events);
  write_counts<RejectReason>(json, "rejects", counters.rejects);
  write_counts<Verdict>(json, "verdict", counters.verdict);
  json.end_object();
}

static void write(JsonWriter& json, const ZonePoint& zone) {
  json.begin_object();
  json.field("kind", name_of(zone.kind));
  write_field(json, "water", zone.water);
  write_field(json, "excess", zone.excess);
  write_field(json, "bond", zone.bond);
  json.end_object();
}

static void write(JsonWriter& json, const FilmEntry& film) {
  json.begin_object();
  json.field("key", film.key);
  json.field("label", film.label);
  json.key("layers");
  json.begin_array();
  for (const auto& layer : film.stack.layers) {
    json.begin_object();
    json.field("name", layer.name);
    json.field("thickness_m", layer.thickness.value());
    json.field("permeability", layer.permeability.value());  // kg/(m s Pa) at 21 C
    json.field("sorption", layer.sorption);                  // kg/m3
    json.field("activation_energy", layer.activation_energy);
    json.end_object();
  }
  json.end_array();
  json.field("ln_resistance_spread", film.stack.ln_resistance_spread);
  json.end_object();
}

static void write(JsonWriter& json, const SolutionEntry& solution) {
  json.begin_object();
  json.field("key", solution.key);
  json.field("label", solution.label);
  json.field("alcohol_fraction", solution.solution.alcohol_fraction);
  json.end_object();
}

static void write(JsonWriter& json, const PanelEntry& panel) {
  json.begin_object();
  json.field("key", panel.key);
  json.field("label_uk", panel.label_uk);
  json.field("label_us", panel.label_us);
  json.field("area_m2", panel.area_m2);
  json.key("zones");
  json.begin_array();
  for (const auto zone : panel.zones) {
    json.value(name_of(zone));
  }
  json.end_array();
  json.end_object();
}

static void write(JsonWriter& json, const PlannedPiece& piece) {
  json.begin_object();
  json.field("panel", piece.panel);
  json.field("part", piece.part);
  json.field("parts", piece.parts);
  json.end_object();
}

static void write(JsonWriter& json, const PieceToLay& piece) {
  json.begin_object();
  json.field("panel", piece.panel);
  json.field("part", piece.part);
  json.field("parts", piece.parts);
  json.field("lay_by", piece.lay_by);
  json.field("chance_now", piece.chance_now);
  json.end_object();
}

static void write(JsonWriter& json, const TemplateEntry& entry) {
  json.begin_object();
  json.field("key", entry.key);
  json.field("label_uk", entry.label_uk);
  json.field("label_us", entry.label_us);
  write_field(json, "pieces", entry.pieces);
  json.end_object();
}

static void write(JsonWriter& json, const HandedOver::Piece& piece) {
  json.begin_object();
  json.field("id", piece.id);
  json.field("panel", piece.panel);
  json.field("part", piece.part);
  json.field("parts", piece.parts);
  json.field("rechecked", piece.rechecked);
  json.key("finding");
  if (piece.finding) {
    json.value(name_of(*piece.finding));
  } else {
    json.null();
  }
  json.end_object();
}

void write(JsonWriter& json, const HandedOver& vehicle) {
  json.begin_object();
  json.field("id", vehicle.vehicle);
  json.field("reference", vehicle.reference);
  json.field("released", vehicle.released);
  json.field("recheck_from", vehicle.recheck_from);
  json.field("recheck_until", vehicle.recheck_until);
  write_field(json, "pieces", vehicle.pieces);
  json.end_object();
}

void write(JsonWriter& json, const Channels& channels) {
  json.begin_object();
  json.key("channels");
  json.begin_array();
  for (const auto& channel : channels.channels) {
    json.begin_object();
    json.field("name", channel.name);
    json.field("kind", channel.kind);
    json.field("least", name_of(channel.least));
    json.end_object();
  }
  json.end_array();
  json.field("quiet", channels.quiet);
  json.end_object();
}

void write(JsonWriter& json, const Board& board) {
  json.begin_object();
  json.field("now", board.now);
  json.field("applied", board.applied);
  write_field(json, "bays", board.bays);
  write_field(json, "vehicles", board.vehicles);
  write_field(json, "alerts", board.alerts);
  write_field(json, "counters", board.counters);
  json.end_object();
}

void write(JsonWriter& json, const VehicleSummary& vehicle) {
  json.begin_object();
  json.field("id", vehicle.id);
  json.field("reference", vehicle.reference);
  json.field("bay", vehicle.bay);
  json.field("arrived", vehicle.arrived);
  json.field("hand_over", vehicle.hand_over);
  json.field("released", vehicle.released);
  write_field(json, "to_lay", vehicle.to_lay);
  write_field(json, "pieces", vehicle.pieces);
  json.field("release_probability", vehicle.release_probability);
  json.field("release_ready", vehicle.release_ready);
  write_field(json, "release_expected", vehicle.release_expected);
  json.field("held_by", vehicle.held_by);
  json.field("hand_over_probability", vehicle.hand_over_probability);
  json.end_object();
}

void write(JsonWriter& json, const AlertSummary& alert) {
  json.begin_object();
  json.field("id", alert.id);
  json.field("rule", name_of(alert.rule));
  json.field("subject", alert.subject);
  json.field("level", name_of(alert.level));
  json.field("raised", alert.raised);
  json.field("cleared", alert.cleared);
  json.field("acknowledged", alert.acknowledged);
  json.field("text", alert.text);
  json.field("advice", alert.advice);
  json.end_object();
}

void write(JsonWriter& json, const AirPoint& point) {
  json.begin_object();
  json.field("at", point.at);
  json.field("air_c", point.air_c);
  json.field("rh_pct", point.rh_pct);
  json.field("panel_c", point.panel_c);
  json.field("dew_point_c", point.dew_point_c);
  json.field("air_speed", point.air_speed);
  json.field("pace", point.pace);
  json.field("bridged", point.bridged);
  json.end_object();
}

void write(JsonWriter& json, const HistoryPoint& point) {
  json.begin_object();
  json.field("at", point.at);
  write_field(json, "zones", point.zones);
  json.field("pace", point.pace);
  json.end_object();
}

void write(JsonWriter& json, const Health& health) {
  json.begin_object();
  bool ok = true;
  for (const auto& part : health.parts) {
    ok = ok && part.ok;
  }
  json.field("ok", ok);
  json.field("version", health.version);
  json.field("started", health.started);
  json.key("parts");
  json.begin_array();
  for (const auto& part : health.parts) {
    json.begin_object();
    json.field("name", part.name);
    json.field("ok", part.ok);
    json.field("text", part.text);
    json.end_object();
  }
  json.end_array();
  json.key("space");
  if (health.space) {
    json.begin_object();
    json.field("database_bytes", health.space->database_bytes);
    json.field("seal_bytes", health.space->seal_bytes);
    json.field("free_bytes", health.space->free_bytes);
    json.field("bytes_per_day", health.space->bytes_per_day);
    json.field("years_left", health.space->years_left);
    json.end_object();
  } else {
    json.null();
  }
  json.end_object();
}

void write(JsonWriter& json, const RecheckReport& report) {
  json.begin_object();
  json.field("vehicles", report.vehicles);
  json.field("pending", report.pending);
  json.field("few_below", report.few_below);
  json.key("groups");
  json.begin_array();
  for (const auto& group : report.groups) {
    json.begin_object();
    json.field("by", group.by);
    json.field("of", group.of);
    json.field("pieces", group.pieces);
    json.field("lifted", group.lifted);
    json.field("low", group.low);
    json.field("high", group.high);
    json.field("few", group.few);
    json.end_object();
  }
  json.end_array();
  json.end_object();
}

void write(JsonWriter& json, const Site& site) {
  json.begin_object();
  json.field("name", site.name);
  json.field("time_zone", site.time_zone);
  json.field("dialect", site.dialect);
  json.field("temperature_unit", site.temperature_unit);
  json.end_object();
}

void write(JsonWriter& json, const Catalogue& catalogue, const Site& site,
           const std::vector<MeasuredFilm>& measured) {
  json.begin_object();
  write_field(json, "site", site);
  write_field(json, "films", catalogue.films);
  write_field(json, "solutions", catalogue.solutions);
  write_field(json, "panels", catalogue.panels);
  write_field(json, "templates", catalogue.templates);
  json.key("measured");
  json.begin_array();
  for (const auto& one : measured) {
    json.begin_object();
    json.field("film", one.film.film);
    json.field("lot", one.film.lot);
    json.field("resistance", one.film.resistance);  // m2 s Pa/kg at 21 C
    json.field("relative_uncertainty", one.film.relative_uncertainty);
    json.field("at", one.at);
    json.end_object();
  }
  json.end_array();
  json.key("water");  // g/m2 right after the squeegee, by zone and wetness
  json.begin_object();
  for (std::size_t zone = 0; zone < catalogue.water.size(); ++zone) {
    json.key(words<models::ZoneKind>[zone]);
    json.begin_object();
    for (std::size_t wetness = 0; wetness < catalogue.water[zone].size(); ++wetness) {
      json.key(words<models::Wetness>[wetness]);
      write(json, catalogue.water[zone][wetness]);
    }
    json.end_object();
  }
  json.end_object();
  json.end_object();
}

}  // namespace dryclock::http
