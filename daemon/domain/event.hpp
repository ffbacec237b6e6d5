// What the installer does, as the journal keeps it: append-only. An event entered wrongly is superseded,
// never deleted; one entered late carries the time it happened, and the model is integrated again from then.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "domain/types.hpp"
#include "models/piece.hpp"

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
};
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
struct HeatApplied {  // a short heating of one piece
  PieceId piece = 0;
  HeatSource source = HeatSource::heat_gun;
  double surface_c = 0.0;  // measured on the film
  double minutes = 0.0;
};
struct LampSwitched {  // a lamp, or sun, on the whole vehicle
  VehicleId vehicle = 0;
  bool on = false;
  double heat_w_m2 = 0.0;  // absorbed by the panels
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
  bool operator==(const PlannedPiece&) const = default;
};
struct Planned {  // what is to be laid on it, in the order of the work; in place of what was planned before
  VehicleId vehicle = 0;
  std::vector<PlannedPiece> pieces;
};

using EventDetail =
    std::variant<VehicleIn, VehicleMoved, HandOverAgreed, Lay, EdgeOpened, EdgeWrapped, Trimmed, PieceRemoved,
                 Inspected, HeatApplied, LampSwitched, Refitted, Released, Rechecked, Superseded,
                 AlertAcknowledged, Noted, Forgotten, Planned>;
// The JSON "what" of each alternative, in the variant's order.
inline constexpr std::array<std::string_view, std::variant_size_v<EventDetail>> event_names{
    "vehicle-in",    "vehicle-moved", "hand-over",    "lay",       "edge-opened", "edge-wrapped", "trimmed",
    "piece-removed", "inspected",     "heat-applied", "lamp",      "refitted",    "released",     "rechecked",
    "superseded",    "acknowledged",  "note",         "forgotten", "planned"};

struct Event {
  Seq seq = 0;      // 0 until it is in the journal
  Time at;          // when it happened
  Time entered;     // when it was told
  std::string who;  // name or initials; may be empty
  std::string note;
  std::string key;  // the sender's idempotency key; may be empty
  EventDetail detail;
};

}  // namespace dryclock
