// The engine's door, in a shop where some work is done: what it takes and what it refuses.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "engine/engine.hpp"
#include "engine/told.hpp"
#include "support/small_shop.hpp"

namespace dryclock::test {

inline const Time eight = parse_rfc3339("2026-03-02T08:00:00Z").value();
inline const Time noon = eight + std::chrono::hours{4};

inline VehicleIn arrival(std::string reference, std::string bay, std::optional<Time> hand_over = {}) {
  return {std::move(reference), std::move(bay), hand_over, {}, {}, {}};
}

// Vehicle 1, "grey-van", came in at 8:00, vehicle 2, "red", at 8:10. On the first the bonnet, piece 3, was
// laid at 9:00; the second half of its bumper, piece 4, at 9:10, and again, piece 5, at 9:30; a lamp, piece
// 6, at 9:40, which was pulled at 9:50. Coupon 8 was laid at 10:00. Note 9 was taken back by row 10.
class Door {
 public:
  Door() {
    takes(arrival("grey-van", "front"), eight);
    takes(arrival("red", "back"), eight + std::chrono::minutes{10});
    takes(lay(1, "bonnet"), eight + std::chrono::hours{1});
    auto bumper = lay(1, "bumper", 2, 2);
    takes(bumper, eight + std::chrono::minutes{70});
    bumper.replaces = 4;
    takes(bumper, eight + std::chrono::minutes{90});
    takes(lay(1, "lamp"), eight + std::chrono::minutes{100});
    takes(PieceRemoved{6}, eight + std::chrono::minutes{110});
    takes(CouponLaid{"open", "", "front", 0.09, 0.9}, eight + std::chrono::hours{2});
    takes(Noted{1}, eight + std::chrono::hours{2});
    takes(Superseded{9}, eight + std::chrono::hours{2});
  }

  void takes(EventDetail detail, Time at) {
    Event event = made(std::move(detail), at);
    event.entered = at;
    event.seq = ++rows_;
    JournalRow row;
    row.seq = event.seq;
    row.kind = RowKind::event;
    row.message.received_at = at;
    Decoded decoded;
    decoded.event = event;
    engine_.apply(row, decoded);
  }

  [[nodiscard]] bool allows(EventDetail detail, Time at = noon) const {
    return engine_.check(made(std::move(detail), at)).has_value();
  }
  [[nodiscard]] Allowed check(std::vector<EventDetail> details) const {
    std::vector<Event> deed;
    for (auto& detail : details) {
      deed.push_back(made(std::move(detail), noon));
    }
    return engine_.check(deed);
  }
  [[nodiscard]] Board board() const { return engine_.board(); }

  [[nodiscard]] Refusal refusal(EventDetail detail, Time at = noon) const {
    const auto allowed = engine_.check(made(std::move(detail), at));
    REQUIRE_FALSE(allowed.has_value());
    return allowed.error();
  }

 private:
  static Event made(EventDetail detail, Time at) {
    Event event;
    event.at = at;
    event.entered = noon;
    event.detail = std::move(detail);
    return event;
  }

  engine::Engine engine_{support::small_shop()};
  Seq rows_ = 0;
};

inline void is(const Refusal& refusal, const Fact& what, std::string_view where) {
  CAPTURE(what.key);
  CHECK(refusal.what == what);
  CHECK(refusal.where == where);
}

inline Fact piece(const char* panel, const char* part = "1", int parts = 1) {
  return {"words.piece", {say::panel("panel", panel), say::text("part", part), say::count("parts", parts)}};
}

}  // namespace dryclock::test
