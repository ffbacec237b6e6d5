// What is found among all vehicles that the journal knows.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/event_fields.hpp"
#include "domain/field.hpp"

namespace dryclock {

struct SearchQuery {
  std::string words;               // each must be true of the vehicle, or of one piece with the others
  std::optional<Time> from, to{};  // it was in the shop within them; absent: at any time
  bool lifted = false;             // only of pieces that somebody saw lifting
};

// A piece of a vehicle that was found. `hit`: what was asked for is true of it.
struct PieceFound {
  PieceId id = 0;
  std::string panel;
  std::optional<Side> side;
  int part = 1, parts = 1;
  std::string place;
  std::string film, lot;
  Time laid;
  std::optional<Time> ended;  // pulled, or laid again
  bool lifted = false;        // somebody saw it lifting, in the shop or at a recheck
  bool hit = false;
};
void visit_fields(auto& f, Of<PieceFound> auto& s) {
  f.type("FoundPiece", "a piece of a vehicle that was found");
  f("id", s.id, numbered);
  f("panel", s.panel);
  f("side", s.side);
  f("part", s.part, AtLeast{1});
  f("parts", s.parts, AtLeast{1});
  f("place", s.place);
  f("film", s.film);
  f("lot", s.lot);
  f("laid", s.laid);
  f("ended", s.ended, "pulled, or laid again");
  f("lifted", s.lifted, "somebody saw it lifting, in the shop or at a recheck");
  f("hit", s.hit, "what was asked of a piece is true of it");
}
struct VehicleFound {
  VehicleId id = 0;
  std::string reference;
  Time arrived;
  std::optional<Time> released;  // absent: it is in the shop
  std::vector<PieceFound> pieces;
};
void visit_fields(auto& f, Of<VehicleFound> auto& s) {
  f.type("FoundVehicle", "a vehicle that was found");
  f("id", s.id, numbered);
  f("reference", s.reference);
  f("arrived", s.arrived);
  f("released", s.released, "null: it is in the shop");
  f("pieces", s.pieces, "in order of laying, ended ones too");
}
struct SearchAnswer {
  std::string q;
  std::vector<VehicleFound> vehicles;
  bool more = false;
};
void visit_fields(auto& f, Of<SearchAnswer> auto& s) {
  f.type("Search", "what was found among all vehicles of all years");
  f("q", s.q);
  f("vehicles", s.vehicles, "newest first");
  f("more", s.more, "the oldest were left off");
}

}  // namespace dryclock
