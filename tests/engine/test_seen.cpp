#include "engine/seen.hpp"

#include <doctest/doctest.h>

#include "engine/told.hpp"
#include "support/small_shop.hpp"

namespace dryclock::engine {
namespace {

using models::Finding;
using models::Sign;
using models::ZoneKind;
using test::event;
using test::t0;

// What the edge of a bonnet, laid as piece 2, did after these events.
std::optional<EdgeSign> sign_after(const std::vector<std::pair<Seq, EventDetail>>& done) {
  VehicleIn in;
  in.reference = "grey-van";
  in.bay = "front";
  Lay lay;
  lay.vehicle = 1;
  lay.panel = "bonnet";
  lay.film = "baseline";
  std::vector<Event> events{event(1, t0, in), event(2, t0 + std::chrono::hours{1}, lay)};
  for (const auto& [seq, detail] : done) {
    events.push_back(event(seq, t0 + std::chrono::hours{seq}, detail));
  }
  const auto plan = make_plan(1, events, support::small_shop().catalogue);
  return edge_sign(plan, plan.pieces.at(0));
}

}  // namespace

TEST_CASE("an edge held where it was turned and nothing lifted until the vehicle left") {
  CHECK_FALSE(sign_after({}));
  CHECK_FALSE(sign_after({{3, EdgeWrapped{2}}}));   // nobody knows yet
  CHECK_FALSE(sign_after({{3, Released{1, ""}}}));  // it was never turned
  const auto held = sign_after({{3, EdgeWrapped{2}}, {4, Trimmed{2}}, {5, Released{1, ""}}});
  REQUIRE(held);
  CHECK(held->sign == Sign::held);
  CHECK(held->event == 3);  // the wrap goes before the trim
  CHECK(held->at == t0 + std::chrono::hours{3});
  CHECK(sign_after({{4, Trimmed{2}}, {5, Released{1, ""}}})->event == 4);
}

TEST_CASE("an edge that was seen to lift after it was turned lifted, in the shop or later") {
  const EventDetail lifts = Inspected{2, ZoneKind::edge, Finding::lifting};
  CHECK(sign_after({{3, EdgeWrapped{2}}, {4, lifts}})->sign == Sign::lifted);  // known at once
  CHECK(sign_after({{3, EdgeWrapped{2}}, {4, lifts}, {5, Released{1, ""}}})->sign == Sign::lifted);
  CHECK(sign_after({{3, lifts}, {4, EdgeWrapped{2}}, {5, Released{1, ""}}})->sign ==
        Sign::held);  // before it
  const auto rechecked = [&](RecheckFinding finding, std::optional<ZoneKind> zone) {
    return sign_after({{3, EdgeWrapped{2}}, {5, Released{1, ""}}, {400, Rechecked{2, finding, zone}}});
  };
  CHECK(rechecked(RecheckFinding::lifting, ZoneKind::edge)->sign == Sign::lifted);
  CHECK(rechecked(RecheckFinding::sound, {})->sign == Sign::held);
  CHECK(rechecked(RecheckFinding::lifting, ZoneKind::field)->sign == Sign::held);
  CHECK_FALSE(rechecked(RecheckFinding::lifting, {}));  // nobody said where
  CHECK_FALSE(rechecked(RecheckFinding::redone, {}));
}

TEST_CASE("a piece that was pulled says nothing of its edge, unless it had lifted") {
  CHECK_FALSE(sign_after({{3, EdgeWrapped{2}}, {4, PieceRemoved{2}}, {5, Released{1, ""}}}));
  CHECK(sign_after({{3, EdgeWrapped{2}},
                    {4, Inspected{2, ZoneKind::edge, Finding::lifting}},
                    {5, PieceRemoved{2}},
                    {6, Released{1, ""}}})
            ->sign == Sign::lifted);
}

}  // namespace dryclock::engine
