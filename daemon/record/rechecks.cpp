#include "record/rechecks.hpp"

#include <algorithm>
#include <functional>
#include <set>

#include "domain/names.hpp"
#include "models/wilson.hpp"

namespace dryclock::record {
namespace {

using Asked = std::function<bool(const RecheckedPiece&)>;

bool lifted(const RecheckedPiece& piece) {
  return piece.lifted;
}

RecheckGroup group_of(const std::string& by, const std::string& of, const std::vector<RecheckedPiece>& pieces,
                      const Asked& belongs, const Asked& lifts = lifted) {
  RecheckGroup group{.by = by, .of = of};
  for (const auto& piece : pieces) {
    if (belongs(piece)) {
      ++group.pieces;
      group.lifted += lifts(piece) ? 1 : 0;
    }
  }
  const auto interval = models::wilson_interval(group.lifted, group.pieces);
  group.low = interval.low;
  group.high = interval.high;
  group.few = group.pieces < few_pieces;
  return group;
}

// What the estimate said when the piece was trimmed.
struct TrimBand {
  const char* words;
  double from, below;
};
constexpr std::array trim_bands{TrimBand{"90-100 %", 0.9, 1.01}, TrimBand{"50-90 %", 0.5, 0.9},
                                TrimBand{"0-50 %", 0.0, 0.5}};

// Of the pieces that have the zone, or were found to lift there, those that lift there. One that lifts,
// nobody having said where, tells nothing of its zones.
void add_zone(std::vector<RecheckGroup>& out, models::ZoneKind zone,
              const std::vector<RecheckedPiece>& pieces) {
  const auto among = [zone](const std::vector<models::ZoneKind>& zones) {
    return std::ranges::find(zones, zone) != zones.end();
  };
  auto group = group_of(
      "zone", std::string{name_of(zone)}, pieces,
      [&](const RecheckedPiece& piece) {
        const bool known = !piece.lifted || !piece.lifted_zones.empty();
        return known && (among(piece.zones) || among(piece.lifted_zones));
      },
      [&](const RecheckedPiece& piece) { return among(piece.lifted_zones); });
  if (group.pieces > 0) {
    out.push_back(std::move(group));
  }
}

// Whether it had not been called fit to leave; where no row of then tells, whether it was not that likely.
bool left_early(const Record& record) {
  const bool told = record.release_again || record.at_end.release_ready;
  return told ? !record.at_end.release_ready
              : record.release_probability.value_or(1.0) < record.announce_level;
}

}  // namespace

std::map<VehicleId, Seq> rechecked_vehicles(const std::vector<history::RecordedEvent>& events) {
  std::map<Seq, const Event*> known;
  std::map<VehicleId, Seq> last;
  for (const history::RecordedEvent& one : events) {
    known[one.event.seq] = &one.event;
    // A correction of a correction brings a recheck back: follow it to its end.
    const Event* target = &one.event;
    while (const auto* correction = target == nullptr ? nullptr : std::get_if<Superseded>(&target->detail)) {
      const auto found = known.find(correction->event);
      target = found == known.end() ? nullptr : found->second;
    }
    if (target != nullptr && std::holds_alternative<Rechecked>(target->detail) && one.vehicle != 0) {
      last[one.vehicle] = one.event.seq;
    }
  }
  return last;
}

Result<std::vector<RecheckedPiece>> rechecked_pieces(const store::Reader& reader, VehicleId vehicle,
                                                     const Origin& origin) {
  const auto gathered = gather(reader, vehicle, origin);
  if (!gathered) {
    return gathered.error();
  }
  const Record& record = gathered.value();
  struct Found {
    bool lifts = false;
    std::set<models::ZoneKind> zones;
  };
  std::map<PieceId, Found> rechecked;  // pieces with a recheck that stands
  for (const auto& entry : record.events) {
    if (const auto* found = std::get_if<Rechecked>(&entry.event.detail);
        found != nullptr && !entry.superseded) {
      auto& piece = rechecked[found->piece];
      piece.lifts = piece.lifts || found->finding != RecheckFinding::sound;
      if (found->zone) {
        piece.zones.insert(*found->zone);
      }
    }
  }
  std::vector<RecheckedPiece> out;
  for (const auto& piece : record.pieces) {
    const auto found = rechecked.find(piece.summary.id);
    if (found == rechecked.end()) {
      continue;
    }
    RecheckedPiece one{.vehicle = vehicle,
                       .piece = piece.summary.id,
                       .panel = piece.summary.panel,
                       .zones = zones_of(piece),
                       .lifted = found->second.lifts,
                       .lifted_zones = {found->second.zones.begin(), found->second.zones.end()},
                       .trim_probability = {},
                       .under_tension = !piece.summary.notes.tension.empty(),
                       .left_early = left_early(record)};
    for (const auto& step : piece.steps) {
      if (step.step == "trimmed") {
        one.trimmed = true;
        one.trim_probability = step.probability;
      }
    }
    out.push_back(std::move(one));
  }
  return out;
}

std::vector<RecheckGroup> grouped(const std::vector<RecheckedPiece>& pieces) {
  std::vector<RecheckGroup> out;
  const auto add = [&](const std::string& by, const std::string& of, auto belongs) {
    auto group = group_of(by, of, pieces, belongs);
    if (group.pieces > 0) {
      out.push_back(std::move(group));
    }
  };
  add("all", "all", [](const RecheckedPiece&) { return true; });
  for (const auto& band : trim_bands) {
    add("trim", band.words, [&](const RecheckedPiece& piece) {
      return piece.trim_probability && *piece.trim_probability >= band.from &&
             *piece.trim_probability < band.below;
    });
  }
  add("trim", "entered-later", [](const RecheckedPiece& p) { return p.trimmed && !p.trim_probability; });
  add("trim", "not-trimmed", [](const RecheckedPiece& p) { return !p.trimmed; });
  add("tension", "noted", [](const RecheckedPiece& p) { return p.under_tension; });
  add("tension", "not-noted", [](const RecheckedPiece& p) { return !p.under_tension; });
  add("release", "early", [](const RecheckedPiece& p) { return p.left_early; });
  add("release", "release-ready", [](const RecheckedPiece& p) { return !p.left_early; });
  for (std::size_t i = 0; i < words<models::ZoneKind>.size(); ++i) {
    add_zone(out, static_cast<models::ZoneKind>(i), pieces);
  }
  std::set<std::string> panels;
  for (const auto& piece : pieces) {
    panels.insert(piece.panel);
  }
  const auto first_panel = static_cast<std::ptrdiff_t>(out.size());
  for (const auto& panel : panels) {
    add("panel", panel, [&](const RecheckedPiece& piece) { return piece.panel == panel; });
  }
  std::stable_sort(out.begin() + first_panel, out.end(),
                   [](const RecheckGroup& a, const RecheckGroup& b) { return a.pieces > b.pieces; });
  return out;
}

}  // namespace dryclock::record
