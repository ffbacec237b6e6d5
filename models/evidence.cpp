#include "models/evidence.hpp"

#include <algorithm>

namespace dryclock::models {
namespace {

constexpr double again = 600.0;  // s within which a look replaces the one before

}  // namespace

PieceEvidence evidence(const LaidPiece& piece, const std::vector<Look>& looks) {
  PieceEvidence all;
  for (std::size_t zone = 0; zone < piece.zones().size(); ++zone) {
    all.zones.push_back({piece.zones()[zone].usual.value(), piece.margin(zone), {}});
  }
  for (const Look& look : looks) {
    auto& seen = all.zones[look.zone].seen;
    const CourseTrace& trace = piece.trace(look.zone);
    const CourseTrace::Place then = trace.where_seconds(look.seconds);
    Seen one{look.sign, look.seconds, {}, trace.front_squared(then)};
    for (std::size_t m = 0; m < members; ++m) {
      one.drunk[m] = trace.drunk(then, m);
    }
    const auto last = std::find_if(seen.rbegin(), seen.rend(), [&](const Seen& earlier) {
      return sort_of(earlier.sign) == sort_of(look.sign);
    });
    if (last != seen.rend() && look.seconds - last->seconds < again) {
      seen.erase(std::next(last).base());
    }
    seen.push_back(one);
  }
  return all;
}

}  // namespace dryclock::models
