#include "engine/learned.hpp"

#include <array>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace dryclock::engine {
namespace {

using models::Weighed;

models::Quantiles factors(std::vector<Weighed> logs) {
  const auto found = models::quantiles(std::move(logs));
  return {std::exp(found.low), std::exp(found.likely), std::exp(found.high)};
}

models::Quantiles resistance(const models::ShopBelief& belief, const std::string& key) {
  std::vector<Weighed> logs;
  for (const auto& node : belief.nodes(key)) {
    logs.push_back({node.film, node.weight});
  }
  return factors(std::move(logs));
}

// Of all that is a piece's and a zone's own.
double unlike(const models::ShopCommon& common) {
  const models::ShopLevels levels;
  double variance = 0.0;
  for (std::size_t s = 0; s < common.sharing.size(); ++s) {
    const auto here = models::shared(levels, models::sharings[s]);
    variance += common.sharing[s] * (here.piece() * here.piece() + here.zone() * here.zone());
  }
  return std::exp(std::sqrt(variance));
}

struct SeenCount {
  int looks = 0;
  std::set<PieceId> pieces;
  void add(PieceId piece, std::size_t signs) {
    if (signs > 0) {
      looks += static_cast<int>(signs);
      pieces.insert(piece);
    }
  }
};

}  // namespace

LearnedView learned(Lessons& lessons, const Shop& shop, const PlateRegistry& plates, Millis bridge_after) {
  const auto belief = lessons.belief(shop, plates, bridge_after);
  const auto known = lessons.known_films(shop, plates);
  SeenCount all;
  std::array<SeenCount, models::zone_kinds> zones;
  std::map<std::pair<std::string, Seq>, SeenCount> films;
  for (const auto* lesson : lessons.rests_on()) {
    for (std::size_t zone = 0; zone < lesson->kinds.size(); ++zone) {
      const auto signs = lesson->evidence.zones[zone].seen.size();
      all.add(lesson->piece, signs);
      zones[static_cast<std::size_t>(lesson->kinds[zone])].add(lesson->piece, signs);
      films[{lesson->film, lesson->measurement}].add(lesson->piece, signs);
    }
  }
  const auto common = belief->common();
  LearnedView out;
  if (shop.learns_since() != Time::min()) {
    out.since = shop.learns_since();
  }
  out.looks = all.looks;
  out.pieces = static_cast<int>(all.pieces.size());
  out.water = factors(common.hand);
  out.eye = factors(common.eye);
  out.unlike = unlike(common);
  for (std::size_t kind = 0; kind < zones.size(); ++kind) {
    if (zones[kind].looks > 0) {
      out.zones.push_back({static_cast<models::ZoneKind>(kind), zones[kind].looks,
                           static_cast<int>(zones[kind].pieces.size())});
    }
  }
  for (const auto& [film, seen] : films) {
    const auto& [key, measurement] = film;
    out.films.push_back({key, measurement, resistance(*belief, belief_key(key, measurement)), seen.looks,
                         static_cast<int>(seen.pieces.size()), known.contains(key)});
  }
  return out;
}

}  // namespace dryclock::engine
