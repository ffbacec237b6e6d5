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
  } else {  // EdgeOpened, EdgeWrapped, Trimmed, PieceRemoved, Refitted
    fields.required("piece", detail.piece);
  }
}

}  // namespace dryclock::ingest
