// The fields of every kind of event: see domain/field.hpp. Names and units are for ever, since rows are.
#pragma once

#include "domain/event.hpp"
#include "domain/field.hpp"

namespace dryclock {

inline constexpr Bounds panel_c_bounds{-40.0, 120.0};
inline constexpr Bounds surface_c_bounds{0.0, 150.0};
inline constexpr Bounds minutes_bounds{0.0, 240.0};
inline constexpr Bounds heat_bounds{0.0, 5000.0};  // W/m2; the sun gives 1000
inline constexpr Bounds area_bounds{0.0, 20.0};    // m2
inline constexpr Bounds heated_area_bounds{0.0, 10.0};
inline constexpr Bounds tool_bounds{100.0, 5000.0};  // W
inline constexpr Bounds lamp_bounds{0.0, 20'000.0};  // W
inline constexpr Bounds part_bounds{1.0, 99.0};
inline constexpr Bounds correction_bounds{-1000.0, 1000.0};  // in settings too
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

inline constexpr Bounds peel_bounds{0.001, 1e5};
inline constexpr Bounds bond_hours_bounds{0.0, 1e5};
inline constexpr Bounds spread_bounds{0.01, 2.0}, break_up_bounds{0.01, 20.0};  // g/m2

inline constexpr std::size_t most_zones = 16, most_beside = 20, most_planned = 100, most_tail_points = 100;
inline constexpr std::size_t most_strips = 3, most_pulled = 100;

void visit_fields(auto& f, Of<SensorRead> auto& s) {
  f.type("SensorRead", "one quantity of a sensor");
  f("topic", s.topic, "MQTT filter; + and # allowed");
  f.optional("pointer", s.pointer, "JSON pointer into the payload; empty: it is a bare number");
  f("quantity", s.quantity);
  f("unit", s.unit);
  f.optional("slope", s.slope, correction_bounds, "of slope * raw + offset, in the sensor's own unit");
  f.optional("offset", s.offset, correction_bounds);
  f.optional("time_pointer", s.time_pointer, "JSON pointer to the time of reading; empty: that of receipt");
}
void visit_fields(auto& f, Of<PlannedPiece> auto& s) {
  f.type("PlannedPiece", "which piece of how many on this panel");
  f("panel", s.panel, "key of the panel catalogue, or the user's own words");
  f.optional("side", s.side, "which of several such panels");
  f.optional("part", s.part, part_bounds);
  f.optional("parts", s.parts, part_bounds);
  f.optional("place", s.place, "what this part is called: a word of the catalogue's places, or any other");
}
void visit_fields(auto& f, Of<Beside> auto& s) {
  f.type("Beside", "a piece that stays on the same panel: what it is from then on");
  f("piece", s.piece, numbered);
  f.optional("part", s.part, part_bounds, "of as many as the new one says");
  f.optional("place", s.place, "what it is called; left out: as before");
}

void visit_fields(auto& f, Of<PlateCourse> auto& s) {
  f.type("PlateCourse", "where the film over a strip was in its course when somebody looked");
  f("drunk_g_m2", s.drunk_g_m2, "for each resistance that is reckoned with");
  f("front_mm2", s.front_mm2, "the front at the free margin, squared");
}
void visit_fields(auto& f, Of<TailPoint> auto& s) {
  f.type("TailPoint", "how likely a coupon's last weighings are where water lies like that");
  f("spread", s.spread, spread_bounds, "standard deviation of ln thickness within a zone");
  f("break_up_g_m2", s.break_up_g_m2, break_up_bounds, "below which it lies in patches");
  f("likelihood", s.likelihood, chance, "the greatest is 1");
}

void visit_fields(auto& f, Of<BondStrip> auto& s) {
  f.type("BondStrip", "a strip that was pulled off");
  f("wlf_h", s.wlf_h, bond_hours_bounds,
    "hours at 20 C that its time was worth, by Williams, Landel and Ferry");
  f("arrhenius_h", s.arrhenius_h, bond_hours_bounds, "the same by Arrhenius, 80 kJ/mol");
  f("peel", s.peel, peel_bounds, "what it took");
}

void visit_fields(auto& f, Of<VehicleIn> auto& s) {
  f("reference", s.reference, "unique among the vehicles now in the shop");
  f("bay", s.bay);
  f.optional("hand_over", s.hand_over, "agreed");
  f.optional("panel_c", s.panel_c, panel_c_bounds, "of its panels, where it came in cold or hot");
  f.optional("plate_sha256", s.plate_sha256, made_by_daemon, "SHA-256 over a random salt and the text");
  f.optional("customer_sha256", s.customer_sha256, made_by_daemon);
  f.apart("plate", "kept outside the journal; the event keeps plate_sha256");
  f.apart("customer", "likewise");
}
void visit_fields(auto& f, Of<VehicleMoved> auto& s) {
  f("vehicle", s.vehicle, numbered);
  f("bay", s.bay);
}
void visit_fields(auto& f, Of<HandOverAgreed> auto& s) {
  f("vehicle", s.vehicle, numbered);
  f.optional("hand_over", s.hand_over, "none: it is no longer agreed");
}
void visit_fields(auto& f, Of<Lay> auto& s) {
  f("vehicle", s.vehicle, numbered);
  f("panel", s.panel, "key of the panel catalogue, or the user's own words");
  f.optional("side", s.side, "which of several such panels; left and right as one sits in the vehicle");
  f.optional("part", s.part, part_bounds);
  f.optional("parts", s.parts, part_bounds);
  f.optional("place", s.place, "what this part is called: a word of the catalogue's places, or any other");
  f.optional("film", s.film, "key; the catalogue's first where left out");
  f.optional("solution", s.solution, "key; the catalogue's first where left out");
  f.optional("wetness", s.wetness);
  f.optional("zones", s.zones, Sizes{0, most_zones}, "as the panel's catalogue entry says where left out");
  f.optional("lot", s.lot, "the film roll's, as printed");
  f.optional("area_m2", s.area_m2, area_bounds, "0: as the catalogue says");
  f.optional("tension", s.notes.tension, "where");
  f.optional("relief_cuts", s.notes.relief_cuts, "where");
  f.optional("joins", s.notes.joins, "where");
  f.optional("replaces", s.replaces, numbered, "a re-lay: that piece ends, its history stays");
  f.optional("beside", s.beside, Sizes{0, most_beside},
             "pieces that stay on the same panel, as other parts of it");
}
void visit_fields(auto& f, Of<EdgeOpened> auto& s) {
  f("piece", s.piece, numbered);
}
void visit_fields(auto& f, Of<EdgeWrapped> auto& s) {
  f("piece", s.piece, numbered);
}
void visit_fields(auto& f, Of<Trimmed> auto& s) {
  f("piece", s.piece, numbered);
}
void visit_fields(auto& f, Of<PieceRemoved> auto& s) {
  f("piece", s.piece, numbered);
}
void visit_fields(auto& f, Of<Inspected> auto& s) {
  f("piece", s.piece, numbered);
  f("zone", s.zone);
  f("finding", s.finding);
}
void visit_fields(auto& f, Of<HeatApplied> auto& s) {
  f("piece", s.piece, numbered);
  f.optional("source", s.source);
  f("surface_c", s.surface_c, surface_c_bounds, "measured on the film");
  f("minutes", s.minutes, minutes_bounds);
  f.optional("zone", s.zone, "that was heated; along the edges where left out");
  f.optional("area_m2", s.area_m2, heated_area_bounds, "that was swept; 0: all of the zone");
  f.optional("tool_w", s.tool_w, tool_bounds, "what the tool draws");
}
void visit_fields(auto& f, Of<NotNeeded> auto& s) {
  f("piece", s.piece, numbered);
  f("which", s.which, "wrap-ready, trim-ready or refit-ready");
  f.optional("needed", s.needed, "true: somebody will do that step after all");
}
void visit_fields(auto& f, Of<LearnAnew> auto& s) {
  f("since", s.since, "what was seen before it no longer counts");
}
void visit_fields(auto& f, Of<LampSwitched> auto& s) {
  f("vehicle", s.vehicle, numbered);
  f("on", s.on);
  f.optional("heat_w_m2", s.heat_w_m2, heat_bounds, "absorbed by the panels");
  f.optional("piece", s.piece, numbered,
             "that it lights; the whole vehicle where left out, and every lamp on it goes off");
  f.optional("zone", s.zone, "of that piece; all of it where left out");
  f.optional("area_m2", s.area_m2, heated_area_bounds, "of the piece that is lit; 0: all of the zone");
  f.optional("tool_w", s.tool_w, lamp_bounds, "what the lamp draws; 0: not told, or the sun");
}
void visit_fields(auto& f, Of<Refitted> auto& s) {
  f("piece", s.piece, numbered);
}
void visit_fields(auto& f, Of<Released> auto& s) {
  f("vehicle", s.vehicle, numbered);
  f.optional("advised", s.advised, "what the customer was told where something was still wet");
}
void visit_fields(auto& f, Of<Rechecked> auto& s) {
  f("piece", s.piece, numbered);
  f("finding", s.finding);
  f.optional("zone", s.zone, "where it lifts, as far as that is known; not with sound");
}
void visit_fields(auto& f, Of<Superseded> auto& s) {
  f("event", s.event, numbered, "was entered wrongly: as if it had never been, but kept");
}
void visit_fields(auto& f, Of<AlertAcknowledged> auto& s) {
  f("alert", s.alert);
}
void visit_fields(auto& f, Of<Noted> auto& s) {
  f("vehicle", s.vehicle, numbered);
}
void visit_fields(auto& f, Of<Forgotten> auto& s) {
  f("vehicle", s.vehicle, numbered, "whose plate and customer are erased for good");
}
void visit_fields(auto& f, Of<Planned> auto& s) {
  f("vehicle", s.vehicle, numbered);
  f("pieces", s.pieces, Sizes{0, most_planned},
    "in the order of the work, in place of what was planned before");
}
void visit_fields(auto& f, Of<SensorAssigned> auto& s) {
  f("sensor", s.sensor, "the same name again replaces it from then on; a name of the settings is refused");
  f("bay", s.bay);
  f.optional("model", s.model);
  f.optional("place", s.place);
  f.optional("tolerance_pct", s.tolerance_pct, tolerance_bounds, "what its maker states for humidity, %RH");
  f("reads", s.reads, Sizes{1, quantity_kinds});
}
void visit_fields(auto& f, Of<SensorRetired> auto& s) {
  f("sensor", s.sensor);
}
void visit_fields(auto& f, Of<SensorCheckStarted> auto& s) {
  f("sensor", s.sensor);
  f("salt", s.salt);
}
void visit_fields(auto& f, Of<SensorCheckEnded> auto& s) {
  f("sensor", s.sensor);
}
void visit_fields(auto& f, Of<SensorChecked> auto& s) {
  f("sensor", s.sensor);
  f("salt", s.salt);
  f("temperature_c", s.temperature_c, salt_c_bounds);
  f("expected_pct", s.expected_pct, pct_bounds, "%RH over that salt at that temperature");
  f("expected_expanded_pct", s.expected_expanded_pct, expanded_bounds,
    "its uncertainty, k = 2, the box's unevenness included");
  f("shown_pct", s.shown_pct, pct_bounds, "mean of what the sensor showed");
  f.optional("spread_pct", s.spread_pct, expanded_bounds, "standard deviation of that");
  f("tolerance_pct", s.tolerance_pct, tolerance_bounds);
  f("readings", s.readings, count_bounds);
  f.optional("steady_since", s.steady_since);
  f("verdict", s.verdict);
  f.optional("slope", s.slope, correction_bounds, "of the correction that follows; none: none is needed");
  f.optional("offset", s.offset, correction_bounds);
}
void visit_fields(auto& f, Of<SensorCorrected> auto& s) {
  f("sensor", s.sensor);
  f("quantity", s.quantity);
  f("slope", s.slope, correction_bounds, "in place of the present one, in the sensor's own unit");
  f("offset", s.offset, correction_bounds);
}
void visit_fields(auto& f, Of<CouponLaid> auto& s) {
  f("film", s.film);
  f.optional("lot", s.lot);
  f("bay", s.bay);
  f("area_m2", s.area_m2, coupon_area_bounds);
  f("water_grams", s.water_grams, water_grams_bounds);
}
void visit_fields(auto& f, Of<CouponWeighed> auto& s) {
  f("coupon", s.coupon, numbered);
  f("grams", s.grams, grams_bounds, "plate, water and film together");
}
void visit_fields(auto& f, Of<FilmMeasured> auto& s) {
  f("film", s.film);
  f.optional("lot", s.lot, "counts for this lot alone; of any where empty");
  f("resistance", s.resistance, resistance_bounds, "of the stack at 21 C, m2 s Pa/kg");
  f("relative_uncertainty", s.relative_uncertainty, relative_bounds, "standard, k = 1");
  f.optional("coupon", s.coupon, numbered);
  f.optional("weighings", s.weighings, count_bounds);
  f.optional("tail", s.tail, Sizes{0, most_tail_points},
             "how water lies, of a coupon that was weighed to its end: counts for every film");
}
void visit_fields(auto& f, Of<BondCouponLaid> auto& s) {
  f("film", s.film);
  f.optional("lot", s.lot);
  f("bay", s.bay);
  f.optional("solution", s.solution, "that it was laid with after all; empty: dry");
}
void visit_fields(auto& f, Of<BondCouponPulled> auto& s) {
  f("coupon", s.coupon, numbered);
  f("peel", s.peel, peel_bounds, "what the strip took: N per 25 mm, or any unit that stays the same");
}
void visit_fields(auto& f, Of<BondMeasured> auto& s) {
  f("film", s.film);
  f.optional("lot", s.lot);
  f.optional("coupon", s.coupon, numbered);
  f("strips", s.strips, Sizes{0, most_pulled}, "counts for every film");
}

void visit_fields(auto& f, Of<PlateLaid> auto& s) {
  f("film", s.film);
  f.optional("lot", s.lot, "the film roll's, as printed");
  f("bay", s.bay);
  f.optional("solution", s.solution, "key; the catalogue's first where left out");
  f.optional("wetness", s.wetness);
  f.optional("strips", s.strips, Sizes{0, most_strips}, "each once; an edge and a recess where left out");
}
void visit_fields(auto& f, Of<PlateSeen> auto& s) {
  f("plate", s.plate, numbered);
  f("zone", s.zone, "of its strips");
  f("sign", s.sign, "how much of it is wet");
  f.optional("course", s.course, made_by_daemon, "of the film over it, by then");
}

}  // namespace dryclock
