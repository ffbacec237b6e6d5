// What the installer does, as the journal keeps it: append-only. An event entered wrongly is superseded,
// never deleted; one entered late carries the time it happened, and the model is integrated again from then.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <variant>
#include <vector>

#include "domain/types.hpp"
#include "models/inspection.hpp"
#include "models/milestone.hpp"
#include "models/salts.hpp"

namespace dryclock {

// Vehicles and pieces are numbered by the journal row of the event that brought them.
using VehicleId = Seq;
using PieceId = Seq;

struct VehicleIn {
  std::string reference;  // of the user's choice; unique among the vehicles now in the shop
  std::string bay;
  std::optional<Time> hand_over;  // agreed
  std::optional<double> panel_c;  // "came in cold"
  // Commitments to what is kept outside the journal (domain/personal.hpp), 64 hexadecimal digits; empty:
  // none.
  std::string plate_sha256{}, customer_sha256{};
};
struct VehicleMoved {
  VehicleId vehicle = 0;
  std::string bay;  // "outside" is a place too
};
struct HandOverAgreed {
  VehicleId vehicle = 0;
  std::optional<Time> hand_over;
};

// Where tension, relief cuts and joins are: they say where to look at the recheck.
struct PieceNotes {
  std::string tension, relief_cuts, joins;
};

// Which of a panel that a vehicle has several of; left and right as one sits in it.
enum class Side : std::uint8_t {
  left,
  right,
  front,
  rear,
  upper,
  lower,
  left_front,
  right_front,
  left_rear,
  right_rear,
};
// What parts of a panel are called: words of the catalogue of messages. Any other word is the user's own.
inline constexpr std::array<std::string_view, 9> known_places{"upper-half",  "lower-half",   "left-half",
                                                              "right-half",  "front-half",   "rear-half",
                                                              "front-third", "middle-third", "rear-third"};

// A piece that stands beside a new one on the same panel: what it is from then on.
struct Beside {
  PieceId piece = 0;
  int part = 1;       // of as many as the new one says
  std::string place;  // empty: as it was
  bool operator==(const Beside&) const = default;
};
struct Lay {
  VehicleId vehicle = 0;
  std::string panel;        // key of the panel catalogue, or the user's own words
  int part = 1, parts = 1;  // which piece of how many on this panel
  std::string film;         // keys of the catalogues
  std::string solution;
  models::Wetness wetness = models::Wetness::usual;
  std::vector<models::ZoneKind> zones;  // empty: as the panel's catalogue entry says
  std::string lot;                      // the film roll's lot number, as printed
  double area_m2 = 0.0;                 // 0: as the catalogue says
  PieceNotes notes;
  std::optional<PieceId> replaces;  // set: a re-lay; the old piece ends, its history stays
  std::optional<Side> side{};       // absent: there is one such panel, or nobody said
  std::string place{};              // what this part is called: of known_places, or the user's own words
  std::vector<Beside> beside{};     // pieces that stay on the same panel as other parts of it
};
// What `piece` is once another one of so many was laid beside it.
template <class Piece>
void stand_beside(Piece& piece, const Beside& beside, int parts) {
  piece.part = beside.part;
  piece.parts = parts;
  if (!beside.place.empty()) {
    piece.place = beside.place;
  }
}
struct EdgeOpened {
  PieceId piece = 0;
};
struct EdgeWrapped {
  PieceId piece = 0;
};
struct Trimmed {
  PieceId piece = 0;
};
struct PieceRemoved {
  PieceId piece = 0;
};  // pulled, and not laid again (yet)
struct Inspected {
  PieceId piece = 0;
  models::ZoneKind zone = models::ZoneKind::field;
  models::Finding finding = models::Finding::clear;
};
enum class HeatSource : std::uint8_t { heat_gun, lamp, sun };
struct HeatApplied {  // a short heating of a part of one piece
  PieceId piece = 0;
  HeatSource source = HeatSource::heat_gun;
  double surface_c = 0.0;  // measured on the film
  double minutes = 0.0;
  std::optional<models::ZoneKind> zone{};  // absent: along the edges
  double area_m2 = 0.0;                    // that was swept; 0: all of the zone
  double tool_w = 2000.0;                  // what it draws
};
struct NotNeeded {  // nobody will do the step that this milestone allows; or somebody will, after all
  PieceId piece = 0;
  models::Milestone which = models::Milestone::wrap_ready;  // wrap_ready, trim_ready or refit_ready
  bool needed = false;
};
struct LampSwitched {  // a lamp, or sun, on the whole vehicle, or on a part of one piece
  VehicleId vehicle = 0;
  bool on = false;
  double heat_w_m2 = 0.0;                  // absorbed by the panels
  std::optional<PieceId> piece{};          // absent: the whole vehicle; off: every lamp on it
  std::optional<models::ZoneKind> zone{};  // of the piece; absent: all of it
  double area_m2 = 0.0;                    // of the piece that is lit; 0: all of the zone
  double tool_w = 0.0;                     // what the lamp draws; 0: nobody said, or the sun
};
struct Refitted {
  PieceId piece = 0;
};
struct Released {
  VehicleId vehicle = 0;
  std::string advised;  // what the customer was told where something was still wet
};
enum class RecheckFinding : std::uint8_t { sound, lifting, redone };
struct Rechecked {
  PieceId piece = 0;
  RecheckFinding finding = RecheckFinding::sound;
  std::optional<models::ZoneKind> zone{};  // where it lifts; absent: nobody said
};
struct Superseded {
  Seq event = 0;
};  // that event was entered wrongly: as if it had never been, but kept
struct AlertAcknowledged {
  std::string alert;
};
struct Noted {
  VehicleId vehicle = 0;
};
struct Forgotten {
  VehicleId vehicle = 0;
};  // plate and customer were erased; the commitments stay

struct PlannedPiece {
  std::string panel;  // as in Lay
  int part = 1, parts = 1;
  std::optional<Side> side{};
  std::string place{};
  bool operator==(const PlannedPiece&) const = default;
};
// What a piece is called by: its panel, its side and which part it is.
template <class Piece>
[[nodiscard]] PlannedPiece name_of_piece(const Piece& piece) {
  return {piece.panel, piece.part, piece.parts, piece.side, piece.place};
}
// Whatever the part is called.
[[nodiscard]] bool same_part(const auto& one, const auto& other) {
  return one.panel == other.panel && one.side == other.side && one.part == other.part &&
         one.parts == other.parts;
}
struct Planned {  // what is to be laid on it, in the order of the work; in place of what was planned before
  VehicleId vehicle = 0;
  std::vector<PlannedPiece> pieces;
};

// The events below concern the shop, not a vehicle: they count until another one says otherwise. All of them
// are read at every start, however old.

// One quantity of a sensor that is set up on the page or by the client: a SensorMapping without its sensor.
struct SensorRead {
  std::string topic;
  std::string pointer;
  Quantity quantity = Quantity::air_temperature;
  Unit unit = Unit::celsius;
  double slope = 1.0;
  double offset = 0.0;
  std::string time_pointer;
  bool operator==(const SensorRead&) const = default;
};
struct SensorAssigned {
  std::string sensor;  // the same name again: replaces what it was, from this row on
  std::string bay;
  std::string model, place;    // as people say them; for the record
  double tolerance_pct = 2.0;  // what its maker states for humidity, %RH; 2 is common practice, no source
  std::vector<SensorRead> reads;
};
struct SensorRetired {
  std::string sensor;
};
// It goes into a box over a saturated salt solution: until the check is over its readings are not the bay's.
struct SensorCheckStarted {
  std::string sensor;
  models::Salt salt = models::Salt::sodium_chloride;
};
struct SensorCheckEnded {  // given up, without a result
  std::string sensor;
};
struct SensorChecked {
  std::string sensor;
  models::Salt salt = models::Salt::sodium_chloride;
  double temperature_c = 0.0;
  double expected_pct = 0.0;           // %RH over that salt at that temperature
  double expected_expanded_pct = 0.0;  // its uncertainty, k = 2, the box's unevenness included
  double shown_pct = 0.0;              // mean of what the sensor showed
  double spread_pct = 0.0;             // standard deviation of that
  double tolerance_pct = 2.0;
  int readings = 0;
  std::optional<Time> steady_since;
  models::SensorVerdict verdict = models::SensorVerdict::agrees;
  std::optional<double> slope, offset;  // the correction that follows from it; absent: none is needed
};
struct SensorCorrected {
  std::string sensor;
  Quantity quantity = Quantity::relative_humidity;
  double slope = 1.0, offset = 0.0;  // in place of the present ones, from this row on
};

// A plate with film and a little water under it, weighed beside a bay's sensor. Coupons are numbered by the
// journal row that brought them.
struct CouponLaid {
  std::string film, lot, bay;
  double area_m2 = 0.09;
  double water_grams = 0.9;
};
struct CouponWeighed {
  Seq coupon = 0;
  double grams = 0.0;  // plate, water and film together
};
// How likely the last weighings of a coupon are where water lies like that.
struct TailPoint {
  double spread = 0.0;         // standard deviation of ln thickness
  double break_up_g_m2 = 0.0;  // below which it lies in patches
  double likelihood = 1.0;     // the greatest is 1
  bool operator==(const TailPoint&) const = default;
};
// What a film's stack resists at 21 C: counts for pieces laid after it. How water lies, where the coupon was
// weighed to its end: counts for all pieces.
struct FilmMeasured {
  std::string film, lot;               // lot empty: of any
  double resistance = 0.0;             // m2 s Pa/kg
  double relative_uncertainty = 0.12;  // standard, k = 1
  std::optional<Seq> coupon;
  int weighings = 0;
  std::vector<TailPoint> tail{};
};

// Strips of a film laid dry side by side, and pulled off one by one: how fast it bonds in this bay's air.
struct BondCouponLaid {
  std::string film, lot, bay;
  std::string solution;  // that it was laid with after all; empty: dry
};
struct BondCouponPulled {
  Seq coupon = 0;
  double peel = 0.0;  // what the strip took, N per 25 mm, or any unit that stays the same
};
struct BondStrip {
  double wlf_h = 0.0, arrhenius_h = 0.0;  // hours at 20 C that its time was worth, by models::BondLaw
  double peel = 0.0;
  bool operator==(const BondStrip&) const = default;
};
// What a bond coupon has shown: counts for all pieces.
struct BondMeasured {
  std::string film, lot;
  std::optional<Seq> coupon;
  std::vector<BondStrip> strips;
};

// What was seen before `since` no longer counts for what the shop is taken to be: other hands, another
// squeegee.
struct LearnAnew {
  Time since;
};

// How much of a strip on a clear plate is wet, counted through the plate.
enum class PlateSign : std::uint8_t { mostly_wet, half_wet, tenth_wet, none_wet };
// A clear plate in a bay, with a film and a solution on it as these hands lay them: strips with one free
// margin (edge), a dummy of a recess, a field. Plates are numbered by the journal row that brought them.
struct PlateLaid {
  std::string film, lot, bay, solution;  // keys of the catalogues
  models::Wetness wetness = models::Wetness::usual;
  std::vector<models::ZoneKind> strips;  // each once; empty: an edge and a recess
};
// Where the film over a strip was in its course when somebody looked: what the look says does not need the
// air again.
struct PlateCourse {
  std::vector<double> drunk_g_m2;  // in the lanes of models::FilmCourse
  double front_mm2 = 0.0;          // the front at the free margin, squared
  bool operator==(const PlateCourse&) const = default;
};
struct PlateSeen {
  Seq plate = 0;
  models::ZoneKind zone = models::ZoneKind::edge;
  PlateSign sign = PlateSign::none_wet;
  std::optional<PlateCourse> course{};  // absent: nobody knew the air, and it says nothing
};

using EventDetail =
    std::variant<VehicleIn, VehicleMoved, HandOverAgreed, Lay, EdgeOpened, EdgeWrapped, Trimmed, PieceRemoved,
                 Inspected, HeatApplied, LampSwitched, Refitted, Released, Rechecked, Superseded,
                 AlertAcknowledged, Noted, Forgotten, Planned, SensorAssigned, SensorRetired,
                 SensorCheckStarted, SensorCheckEnded, SensorChecked, SensorCorrected, CouponLaid,
                 CouponWeighed, FilmMeasured, NotNeeded, LearnAnew, PlateLaid, PlateSeen, BondCouponLaid,
                 BondCouponPulled, BondMeasured>;
// The JSON "what" of each alternative, in the variant's order.
inline constexpr std::array<std::string_view, std::variant_size_v<EventDetail>> event_names{
    "vehicle-in",
    "vehicle-moved",
    "hand-over",
    "lay",
    "edge-opened",
    "edge-wrapped",
    "trimmed",
    "piece-removed",
    "inspected",
    "heat-applied",
    "lamp",
    "refitted",
    "released",
    "rechecked",
    "superseded",
    "acknowledged",
    "note",
    "forgotten",
    "planned",
    "sensor-assigned",
    "sensor-retired",
    "sensor-check-started",
    "sensor-check-ended",
    "sensor-checked",
    "sensor-corrected",
    "coupon-laid",
    "coupon-weighed",
    "film-measured",
    "not-needed",
    "learn-anew",
    "plate-laid",
    "plate-seen",
    "bond-coupon-laid",
    "bond-coupon-pulled",
    "bond-measured"};

// Whether an event of this kind concerns the shop.
template <class Detail>
inline constexpr bool is_shop_event_kind = requires(Detail d) {
  d.sensor;
}
|| std::is_same_v<Detail, CouponLaid> || std::is_same_v<Detail, CouponWeighed> ||
    std::is_same_v<Detail, FilmMeasured> || std::is_same_v<Detail, LearnAnew> ||
    std::is_same_v<Detail, PlateLaid> || std::is_same_v<Detail, PlateSeen> ||
    std::is_same_v<Detail, BondCouponLaid> || std::is_same_v<Detail, BondCouponPulled> ||
    std::is_same_v<Detail, BondMeasured>;
[[nodiscard]] inline bool is_shop_event(const EventDetail& detail) {
  return std::visit([](const auto& d) { return is_shop_event_kind<std::decay_t<decltype(d)>>; }, detail);
}

struct Event {
  Seq seq = 0;      // 0 until it is in the journal
  Time at;          // when it happened
  Time entered;     // when the daemon took it in
  std::string who;  // name or initials; may be empty
  std::string note;
  std::string key;  // the sender's idempotency key; may be empty
  EventDetail detail;
  std::string deed{};  // events that were told as one deed have the same one, and are taken back together
};

}  // namespace dryclock
