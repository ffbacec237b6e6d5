// The fields of every kind of event, once: the reader and the writer both walk this list.
#pragma once

#include "domain/event.hpp"

namespace dryclock::ingest {

struct Bounds {
  double least, most;
};
inline constexpr Bounds panel_c_bounds{-40.0, 120.0};
inline constexpr Bounds surface_c_bounds{0.0, 150.0};
inline constexpr Bounds minutes_bounds{0.0, 240.0};
inline constexpr Bounds heat_bounds{0.0, 5000.0};  // W/m2; the sun gives 1000
inline constexpr Bounds area_bounds{0.0, 20.0};    // m2
inline constexpr Bounds part_bounds{1.0, 99.0};
inline constexpr Bounds correction_bounds{-1000.0, 1000.0};  // as in the configuration
inline constexpr Bounds pct_bounds{-5.0, 110.0};             // a sensor may overshoot
inline constexpr Bounds expanded_bounds{0.0, 50.0};
inline constexpr Bounds tolerance_bounds{0.1, 20.0};
inline constexpr Bounds salt_c_bounds{0.0, 60.0};
inline constexpr Bounds count_bounds{0.0, 1e6};
inline constexpr Bounds coupon_area_bounds{1e-4, 4.0};
inline constexpr Bounds water_grams_bounds{1e-3, 1000.0};
inline constexpr Bounds grams_bounds{0.0, 1e5};
// Bare adhesive to a laminate ten times a film's: what no film is, is a slip of the pen.
inline constexpr Bounds resistance_bounds{1e7, 1e12};  // m2 s Pa/kg
inline constexpr Bounds relative_bounds{0.01, 1.0};

template <class Fields, class Read>
void visit_read_fields(Fields& fields, Read& read) {
  fields.required("topic", read.topic);
  fields.optional("pointer", read.pointer);
  fields.required("quantity", read.quantity);
  fields.required("unit", read.unit);
  fields.optional("slope", read.slope, correction_bounds);
  fields.optional("offset", read.offset, correction_bounds);
  fields.optional("time_pointer", read.time_pointer);
}

// `fields.required(name, member)` and `fields.optional(name, member)`, numbers with their bounds.
// `Detail` is const for the writer.
template <class Fields, class Detail>
void visit_fields(Fields& fields, Detail& detail) {
  using D = std::remove_const_t<Detail>;
  if constexpr (std::is_same_v<D, VehicleIn>) {
    fields.required("reference", detail.reference);
    fields.required("bay", detail.bay);
    fields.optional("hand_over", detail.hand_over);
    fields.optional("panel_c", detail.panel_c, panel_c_bounds);
    fields.optional("plate_sha256", detail.plate_sha256);
    fields.optional("customer_sha256", detail.customer_sha256);
  } else if constexpr (std::is_same_v<D, VehicleMoved>) {
    fields.required("vehicle", detail.vehicle);
    fields.required("bay", detail.bay);
  } else if constexpr (std::is_same_v<D, HandOverAgreed>) {
    fields.required("vehicle", detail.vehicle);
    fields.optional("hand_over", detail.hand_over);
  } else if constexpr (std::is_same_v<D, Lay>) {
    fields.required("vehicle", detail.vehicle);
    fields.required("panel", detail.panel);
    fields.optional("part", detail.part, part_bounds);
    fields.optional("parts", detail.parts, part_bounds);
    fields.optional("film", detail.film);
    fields.optional("solution", detail.solution);
    fields.optional("wetness", detail.wetness);
    fields.optional("zones", detail.zones);
    fields.optional("lot", detail.lot);
    fields.optional("area_m2", detail.area_m2, area_bounds);
    fields.optional("tension", detail.notes.tension);
    fields.optional("relief_cuts", detail.notes.relief_cuts);
    fields.optional("joins", detail.notes.joins);
    fields.optional("replaces", detail.replaces);
  } else if constexpr (std::is_same_v<D, Inspected>) {
    fields.required("piece", detail.piece);
    fields.required("zone", detail.zone);
    fields.required("finding", detail.finding);
  } else if constexpr (std::is_same_v<D, HeatApplied>) {
    fields.required("piece", detail.piece);
    fields.optional("source", detail.source);
    fields.required("surface_c", detail.surface_c, surface_c_bounds);
    fields.required("minutes", detail.minutes, minutes_bounds);
  } else if constexpr (std::is_same_v<D, LampSwitched>) {
    fields.required("vehicle", detail.vehicle);
    fields.required("on", detail.on);
    fields.optional("heat_w_m2", detail.heat_w_m2, heat_bounds);
  } else if constexpr (std::is_same_v<D, Released>) {
    fields.required("vehicle", detail.vehicle);
    fields.optional("advised", detail.advised);
  } else if constexpr (std::is_same_v<D, Rechecked>) {
    fields.required("piece", detail.piece);
    fields.required("finding", detail.finding);
    fields.optional("zone", detail.zone);
  } else if constexpr (std::is_same_v<D, Superseded>) {
    fields.required("event", detail.event);
  } else if constexpr (std::is_same_v<D, AlertAcknowledged>) {
    fields.required("alert", detail.alert);
  } else if constexpr (std::is_same_v<D, Noted> || std::is_same_v<D, Forgotten>) {
    fields.required("vehicle", detail.vehicle);
  } else if constexpr (std::is_same_v<D, PlannedPiece>) {
    fields.required("panel", detail.panel);
    fields.optional("part", detail.part, part_bounds);
    fields.optional("parts", detail.parts, part_bounds);
  } else if constexpr (std::is_same_v<D, Planned>) {
    fields.required("vehicle", detail.vehicle);
    fields.required("pieces", detail.pieces);
  } else if constexpr (std::is_same_v<D, SensorAssigned>) {
    fields.required("sensor", detail.sensor);
    fields.required("bay", detail.bay);
    fields.optional("model", detail.model);
    fields.optional("place", detail.place);
    fields.optional("tolerance_pct", detail.tolerance_pct, tolerance_bounds);
    fields.required("reads", detail.reads);
  } else if constexpr (std::is_same_v<D, SensorRetired> || std::is_same_v<D, SensorCheckEnded>) {
    fields.required("sensor", detail.sensor);
  } else if constexpr (std::is_same_v<D, SensorCheckStarted>) {
    fields.required("sensor", detail.sensor);
    fields.required("salt", detail.salt);
  } else if constexpr (std::is_same_v<D, SensorChecked>) {
    fields.required("sensor", detail.sensor);
    fields.required("salt", detail.salt);
    fields.required("temperature_c", detail.temperature_c, salt_c_bounds);
    fields.required("expected_pct", detail.expected_pct, pct_bounds);
    fields.required("expected_expanded_pct", detail.expected_expanded_pct, expanded_bounds);
    fields.required("shown_pct", detail.shown_pct, pct_bounds);
    fields.optional("spread_pct", detail.spread_pct, expanded_bounds);
    fields.required("tolerance_pct", detail.tolerance_pct, tolerance_bounds);
    fields.required("readings", detail.readings, count_bounds);
    fields.optional("steady_since", detail.steady_since);
    fields.required("verdict", detail.verdict);
    fields.optional("slope", detail.slope, correction_bounds);
    fields.optional("offset", detail.offset, correction_bounds);
  } else if constexpr (std::is_same_v<D, SensorCorrected>) {
    fields.required("sensor", detail.sensor);
    fields.required("quantity", detail.quantity);
    fields.required("slope", detail.slope, correction_bounds);
    fields.required("offset", detail.offset, correction_bounds);
  } else if constexpr (std::is_same_v<D, CouponLaid>) {
    fields.required("film", detail.film);
    fields.optional("lot", detail.lot);
    fields.required("bay", detail.bay);
    fields.required("area_m2", detail.area_m2, coupon_area_bounds);
    fields.required("water_grams", detail.water_grams, water_grams_bounds);
  } else if constexpr (std::is_same_v<D, CouponWeighed>) {
    fields.required("coupon", detail.coupon);
    fields.required("grams", detail.grams, grams_bounds);
  } else if constexpr (std::is_same_v<D, FilmMeasured>) {
    fields.required("film", detail.film);
    fields.optional("lot", detail.lot);
    fields.required("resistance", detail.resistance, resistance_bounds);
    fields.required("relative_uncertainty", detail.relative_uncertainty, relative_bounds);
    fields.optional("coupon", detail.coupon);
    fields.optional("weighings", detail.weighings, count_bounds);
  } else {  // EdgeOpened, EdgeWrapped, Trimmed, PieceRemoved, Refitted
    fields.required("piece", detail.piece);
  }
}

}  // namespace dryclock::ingest
