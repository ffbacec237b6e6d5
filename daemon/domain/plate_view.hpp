// What the outside may see of clear plates that are looked at as they dry.
#pragma once

#include <algorithm>
#include <optional>
#include <vector>

#include "domain/event_fields.hpp"
#include "domain/fact.hpp"
#include "domain/field.hpp"
#include "domain/types.hpp"

namespace dryclock {

// Of a plate that nobody has seen dry: it is no longer asked about, and the air beside it no longer kept.
inline constexpr Millis longest_plate = std::chrono::hours{14 * 24};

[[nodiscard]] inline std::vector<models::ZoneKind> strips_of(const PlateLaid& plate) {
  return plate.strips.empty() ? std::vector{models::ZoneKind::edge, models::ZoneKind::recess} : plate.strips;
}

struct PlateLook {
  Seq event = 0;
  Time at;
  models::ZoneKind zone = models::ZoneKind::edge;
  PlateSign sign = PlateSign::none_wet;
};
void visit_fields(auto& f, Of<PlateLook> auto& s) {
  f.type("PlateLook", "somebody looked at a strip");
  f("event", s.event, numbered);
  f("at", s.at);
  f("zone", s.zone);
  f("sign", s.sign, "how much of it was wet");
}

// The last look at a strip, of looks in order of time; null: nobody has looked.
[[nodiscard]] inline const PlateLook* last_look(const std::vector<PlateLook>& seen, models::ZoneKind zone) {
  const auto found =
      std::find_if(seen.rbegin(), seen.rend(), [zone](const PlateLook& look) { return look.zone == zone; });
  return found == seen.rend() ? nullptr : &*found;
}
// Each of its strips was seen without water, and not otherwise since.
[[nodiscard]] inline bool seen_to_its_end(const PlateLaid& plate, const std::vector<PlateLook>& seen) {
  const auto strips = strips_of(plate);
  return std::all_of(strips.begin(), strips.end(), [&](models::ZoneKind zone) {
    const auto* look = last_look(seen, zone);
    return look != nullptr && look->sign == PlateSign::none_wet;
  });
}

struct PlateStrip {
  models::ZoneKind kind = models::ZoneKind::edge;
  std::optional<double> tenth_chance, clear_chance;
  bool look = false;
};
void visit_fields(auto& f, Of<PlateStrip> auto& s) {
  f.type("PlateStrip", "a strip of film on a clear plate");
  f("kind", s.kind);
  f("tenth_chance", s.tenth_chance, chance,
    "that a tenth of it is wet at most; null where its end was seen or the air is not known");
  f("clear_chance", s.clear_chance, chance, "that hardly any of it is wet; null likewise");
  f("look", s.look, "a look decides most now");
}

struct PlateView {
  Seq id = 0;
  Time laid;
  PlateLaid plate;  // with its strips named
  std::vector<PlateStrip> zones;
  std::vector<PlateLook> seen;  // in order of time
  bool known = false, over = false;
  Fact what;
};
void visit_fields(auto& f, Of<PlateView> auto& s) {
  f.type("Plate", "a clear plate with film on it, looked at as it dries");
  f("plate", s.id, numbered);
  f("laid", s.laid);
  f.flat(s.plate);
  f("zones", s.zones, "how its strips stand");
  f("seen", s.seen, "in order of time");
  f("known", s.known, "its film and the hands count as known");
  f("over", s.over, "seen to its end, or given up");
  f("what", s.what, "is so");
}

// A look that is asked for.
struct PlateAsk {
  Seq plate = 0;
  models::ZoneKind zone = models::ZoneKind::edge;
  Fact what;
};
void visit_fields(auto& f, Of<PlateAsk> auto& s) {
  f.type("PlateAsk", "a look at a strip that decides most now");
  f("plate", s.plate, numbered);
  f("zone", s.zone);
  f("what", s.what, "to look at");
}

}  // namespace dryclock
