#include "models/evidence.hpp"

#include <algorithm>

namespace dryclock::models {
namespace {

constexpr double again = 600.0;  // s within which a look replaces the one before

}  // namespace

Seen seen_at(const LaidPiece& piece, const Look& look) {
  const CourseTrace& trace = piece.trace(look.zone);
  const CourseTrace::Place then = trace.where_seconds(look.seconds);
  Seen seen{look.sign, look.seconds, {}, trace.front_squared(then)};
  for (std::size_t m = 0; m < members; ++m) {
    seen.drunk[m] = trace.drunk(then, m);
  }
  return seen;
}

void add(ZoneEvidence& zone, const Seen& seen) {
  const auto last = std::find_if(zone.seen.rbegin(), zone.seen.rend(), [&](const Seen& earlier) {
    return sort_of(earlier.sign) == sort_of(seen.sign);
  });
  if (last != zone.seen.rend() && seen.seconds - last->seconds < again) {
    zone.seen.erase(std::next(last).base());
  }
  zone.seen.push_back(seen);
}

PieceEvidence evidence(const LaidPiece& piece, const std::vector<Look>& looks) {
  PieceEvidence all;
  for (std::size_t zone = 0; zone < piece.zones().size(); ++zone) {
    all.zones.push_back({piece.zones()[zone].usual.value(), piece.margin(zone), {}});
  }
  for (const Look& look : looks) {
    add(all.zones[look.zone], seen_at(piece, look));
  }
  return all;
}

}  // namespace dryclock::models
