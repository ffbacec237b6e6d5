// Panels that have a piece, deeds of several events, and what waits for somebody.
#include <doctest/doctest.h>

#include "engine/door.hpp"

using namespace dryclock;
using namespace dryclock::test;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

Fact there(Fact what, const char* number, Time laid) {
  return {"refusals.piece-there",
          {say::fact("piece", std::move(what)), say::text("number", number), say::time("at", laid)}};
}
Fact has_piece(std::vector<Fact> pieces) {
  return {"refusals.has-piece", {say::facts("pieces", std::move(pieces))}};
}

}  // namespace

TEST_CASE("a panel that has a piece asks: another part, or laid again; the refusal names the pieces") {
  Door door;
  is(door.refusal(lay(1, "bonnet")), has_piece({there(piece("bonnet"), "3", eight + hours{1})}), "/panel");
  auto again = lay(1, "bonnet");
  again.replaces = 3;
  CHECK(door.allows(again));
  auto another = lay(1, "bonnet", 2, 2);
  is(door.refusal(another), has_piece({there(piece("bonnet"), "3", eight + hours{1})}), "/panel");
  another.beside = {{3, 1, "front-half"}};
  CHECK(door.allows(another));
  another.beside = {{3, 3, ""}};
  CHECK(door.refusal(another).what.key == "refusals.no-such-part");
  another.beside = {{3, 2, ""}};  // which is what this one is
  is(door.refusal(another), {"refusals.part-twice", {say::panel("panel", "bonnet")}}, "/beside");
  another.parts = 3;
  another.beside = {{3, 1, ""}, {3, 3, ""}};
  CHECK(door.refusal(another).what.key == "refusals.part-twice");
  another.parts = 2;
  another.beside = {{3, 1, ""}, {5, 1, ""}};
  is(door.refusal(another), {"refusals.other-panel", {say::fact("piece", piece("bumper", "2", 2))}},
     "/beside");
  another.beside = {{5, 1, ""}, {3, 1, ""}};
  another.vehicle = 2;
  is(door.refusal(another), {"refusals.other-vehicle", {say::fact("piece", piece("bumper", "2", 2))}},
     "/beside");
  // Of a panel in halves the other half is free, of another vehicle or before it was laid the panel is.
  CHECK(door.allows(lay(1, "bumper", 1, 2)));
  CHECK(door.refusal(lay(1, "bumper", 2, 2)).what.key == "refusals.has-piece");
  CHECK(door.refusal(lay(1, "bumper", 1, 3)).what.key == "refusals.has-piece");
  CHECK(door.allows(lay(2, "bonnet")));
  CHECK(door.allows(lay(1, "bonnet"), eight + minutes{30}));
  CHECK(door.allows(lay(1, "lamp")));  // it was pulled
}

TEST_CASE("left and right are two; where nobody says which, it may be the same") {
  Door door;
  const auto wing = [](std::optional<Side> side) {
    auto laid = lay(2, "wing");
    laid.zones = {models::ZoneKind::field};
    laid.side = side;
    return laid;
  };
  door.takes(wing(Side::left), eight + hours{3});
  CHECK(door.allows(wing(Side::right)));
  CHECK(door.refusal(wing(Side::left)).what.key == "refusals.has-piece");
  CHECK(door.refusal(wing(std::nullopt)).what.key == "refusals.has-piece");
  door.takes(wing(std::nullopt), eight + hours{3});  // as an older journal has it: a replay refuses nothing
  CHECK(door.refusal(wing(Side::right)).what.key == "refusals.has-piece");
}

TEST_CASE("several events are one deed where each can be and none stands in another's way") {
  Door door;
  const auto deed = [&](std::vector<EventDetail> details) {
    const auto allowed = door.check(std::move(details));
    return allowed ? std::string{"taken"} : allowed.error().what.key + " " + allowed.error().where;
  };
  CHECK(deed({EdgeWrapped{3}, EdgeWrapped{5}}) == "taken");
  CHECK(deed({Inspected{3, models::ZoneKind::edge}, Inspected{3, models::ZoneKind::field}}) == "taken");
  CHECK(deed({EdgeWrapped{3}, EdgeWrapped{99}}) == "refusals.no-piece /events/1/piece");
  CHECK(deed({EdgeWrapped{3}, Trimmed{3}}) == "refusals.twice-in-deed /events/1");
  // What the first one takes off cannot be looked at any more.
  CHECK(deed({Inspected{3, models::ZoneKind::edge}, PieceRemoved{3}}) == "taken");
  CHECK(deed({PieceRemoved{3}, Inspected{3, models::ZoneKind::edge}}) == "refusals.twice-in-deed /events/1");
  auto again = lay(1, "bonnet");
  again.replaces = 3;
  CHECK(deed({again, LampSwitched{.vehicle = 1, .on = false, .piece = 3}}) ==
        "refusals.twice-in-deed /events/1");
  auto first = lay(1, "bonnet", 2, 2), second = lay(1, "bonnet", 1, 2);
  first.beside = {{3, 1, ""}};
  second.beside = {{3, 2, ""}};
  CHECK(deed({first, second}) == "refusals.twice-in-deed /events/1");
  CHECK(deed({lay(2, "bonnet"), lay(2, "bonnet")}) == "refusals.laid-twice-in-deed /events/1/panel");
  CHECK(deed({lay(2, "bonnet", 1, 2), lay(2, "bonnet", 2, 2)}) == "taken");
}

TEST_CASE("a step that was early waits for a look, and a look for somebody") {
  Door door;
  const auto waits = [&] {  // for somebody at a piece: the shop's two sensors have said nothing all morning
    auto all = door.board().waits;
    const auto silent = std::erase_if(all, [](const Wait& wait) { return wait.kind == WaitKind::silent; });
    CHECK(silent == 2);
    return all;
  };
  CHECK(waits().empty());
  door.takes(EdgeWrapped{3}, noon);
  const auto early = waits();
  REQUIRE(early.size() == 1);
  CHECK(early[0].kind == WaitKind::early);
  CHECK(early[0].piece == 3);
  CHECK(early[0].vehicle == 1);
  CHECK(early[0].since == noon);
  door.takes(Inspected{3, models::ZoneKind::edge, models::Finding::hazy}, noon + minutes{10});
  CHECK(waits().empty());
}
