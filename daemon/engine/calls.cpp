#include "engine/calls.hpp"

#include <algorithm>

namespace dryclock::engine {
namespace {

using models::Finding;
using models::Milestone;
using models::ZoneKind;

// What was seen last, by kind of zone.
using Seen = std::array<std::optional<std::pair<Time, Finding>>, models::zone_kinds>;

bool asks_for_liquid(const PiecePlan& piece, Milestone which, ZoneKind zone) {
  const auto asks = models::asks_of(models::Thresholds{}, which, zone, piece.has(ZoneKind::edge),
                                    piece.has(ZoneKind::field));
  return asks.wet_share < 1.0;
}

bool speaks_against(Finding finding, const PiecePlan& piece, Milestone which, ZoneKind zone) {
  switch (finding) {
    case Finding::wet:
      return asks_for_liquid(piece, which, zone);
    case Finding::hazy:
      return which == Milestone::clear;
    case Finding::lifting:
      return which != Milestone::liquid_gone && which != Milestone::clear;
    case Finding::clear:
      break;
  }
  return false;
}

// Every zone whose liquid the milestone asks about was clear when it was last looked at.
bool settled(const Seen& seen, const PiecePlan& piece, Milestone which) {
  return std::ranges::all_of(piece.spec.zones, [&](const models::LaidZone& zone) {
    const auto& last = seen[static_cast<std::size_t>(zone.kind)];
    return !asks_for_liquid(piece, which, zone.kind) || (last && last->second == Finding::clear);
  });
}

void say(Calls::Known& known, const Announcement& said, Time at) {
  const bool stale = known.refuted && *known.refuted >= at;
  switch (said.word) {
    case Word::look:
      if (!known.look && !known.ready && !stale) {
        known.look = at;
        known.probability = said.probability;
      }
      break;
    case Word::ready:
      if (!known.ready && !stale) {
        known.ready = at;
        known.probability = said.probability;
      }
      break;
    case Word::taken_back:
      if (!known.by_word) {
        known.look.reset();
        known.ready.reset();
        known.probability = said.probability;
      }
      break;
  }
}

void refute(Calls::Known& known, const Event& event) {
  known.look.reset();
  known.ready.reset();
  known.by_word = false;
  known.probability = 0.0;
  known.refuted = std::max(known.refuted.value_or(event.entered), event.entered);
  known.seen = std::max(known.seen.value_or(event.at), event.at);
}

// The change from what was said before, if there is one.
template <class Row>
void report(const Said& before, const Said& after, Time now, Row row, std::vector<Row>& rows) {
  row.at = now;
  if (after.ready) {
    row.word = Word::ready;
    row.at = *after.ready;
  } else if (after.look) {
    row.word = Word::look;
    row.at = *after.look;
  } else {
    row.word = Word::taken_back;
  }
  const bool same = before.ready == after.ready && (after.ready || before.look == after.look);
  if (!same) {
    rows.push_back(row);
  }
}

}  // namespace

// Reads a vehicle's rows in their order.
class Calls::Reader {
 public:
  Reader(const engine::Vehicle& vehicle, Vehicle& out) : vehicle_(vehicle), out_(out) {
    for (const auto& piece : vehicle.plan.pieces) {
      out_.pieces.try_emplace(piece.id);
    }
  }

  void read(const Event& event) {
    if (std::holds_alternative<Lay>(event.detail)) {
      out_.release = {};  // another piece: the vehicle as a whole is to be judged anew
    } else if (const auto* seen = std::get_if<Inspected>(&event.detail)) {
      look(event, *seen);
    }
  }

  void read(const Announced& row) {
    for (const auto& said : row.announcements) {
      const auto* piece = find(said.piece);
      if (said.piece == 0) {
        say(out_.release, said, row.at);
      } else if (piece != nullptr && (!piece->ended || row.at < *piece->ended) &&
                 needed(*piece, said.which)) {
        say(known(*piece, said.which), said, row.at);
      }
    }
  }

 private:
  void look(const Event& event, const Inspected& looked) {
    const auto* piece = find(looked.piece);
    if (piece == nullptr) {
      return;
    }
    auto& seen = seen_[piece->id];
    auto& last = seen[static_cast<std::size_t>(looked.zone)];
    if (last && event.at < last->first) {
      return;  // a later look has spoken already
    }
    last = {event.at, looked.finding};
    for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
      const auto which = static_cast<Milestone>(k);
      auto& said = known(*piece, which);
      if (speaks_against(looked.finding, *piece, which, looked.zone)) {
        refute(said, event);
        if (which == Milestone::may_leave && !piece->ended) {
          refute(out_.release, event);
        }
      } else if (needed(*piece, which) && settled(seen, *piece, which)) {
        said.by_word = true;
        if (!said.ready) {
          said.ready = event.at;
          said.probability = 1.0;
        }
      }
    }
  }

  [[nodiscard]] const PiecePlan* find(PieceId id) const {
    const auto& pieces = vehicle_.plan.pieces;
    const auto found = std::ranges::find(pieces, id, &PiecePlan::id);
    return found == pieces.end() ? nullptr : &*found;
  }
  [[nodiscard]] static bool needed(const PiecePlan& piece, Milestone which) {
    return piece.needed[static_cast<std::size_t>(which)];
  }
  Known& known(const PiecePlan& piece, Milestone which) {
    return out_.pieces.at(piece.id)[static_cast<std::size_t>(which)];
  }

  const engine::Vehicle& vehicle_;
  Vehicle& out_;
  std::map<PieceId, Seen> seen_;
};

void Calls::add(Seq row, const Announced& announced) {
  rows_[announced.vehicle].emplace(row, announced);
}

void Calls::follow(VehicleId id, const Shop& shop, Time now, std::vector<MilestoneRow>& milestones,
                   std::vector<ReleaseRow>& releases) {
  const auto* vehicle = shop.vehicle(id);
  if (vehicle == nullptr) {
    return;
  }
  Vehicle after;
  if (vehicle->plan.valid) {
    Reader reader{*vehicle, after};
    auto events = shop.standing(id);
    std::ranges::sort(events, {}, &Event::seq);
    const auto& rows = rows_[id];
    auto row = rows.begin();
    for (const auto& event : events) {
      for (; row != rows.end() && row->first < event.seq; ++row) {
        reader.read(row->second);
      }
      reader.read(event);
    }
    for (; row != rows.end(); ++row) {
      reader.read(row->second);
    }
    if (!vehicle->plan.released && !vehicle->plan.to_lay().empty()) {
      after.release = {};
    }
  }
  auto& before = vehicles_[id];
  for (const auto& [piece, said] : before.pieces) {
    after.pieces.try_emplace(piece);  // that it was laid has been taken back
  }
  for (const auto& [piece, said] : after.pieces) {
    owner_[piece] = id;
    for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
      MilestoneRow row;
      row.piece = piece;
      row.which = static_cast<Milestone>(k);
      row.probability = said[k].probability;
      row.by_word = said[k].by_word;
      report(before.pieces[piece][k], said[k], now, row, milestones);
    }
  }
  ReleaseRow row;
  row.vehicle = id;
  report(before.release, after.release, now, row, releases);
  before = std::move(after);
}

const Calls::Milestones& Calls::of(PieceId piece) const {
  static const Milestones nothing{};
  const auto owner = owner_.find(piece);
  return owner == owner_.end() ? nothing : vehicles_.at(owner->second).pieces.at(piece);
}

const Said& Calls::release_of(VehicleId vehicle) const {
  static const Said nothing{};
  const auto found = vehicles_.find(vehicle);
  return found == vehicles_.end() ? nothing : found->second.release;
}

const Calls::Known* Calls::find(const Vehicle& vehicle, const Announcement& said) const {
  if (said.piece == 0) {
    return &vehicle.release;
  }
  const auto piece = vehicle.pieces.find(said.piece);
  return piece == vehicle.pieces.end() ? nullptr : &piece->second[static_cast<std::size_t>(said.which)];
}

std::vector<Announcement> Calls::news(const OutlookAnswer& answer, std::optional<Time> integrated) const {
  auto out = answer.announcements;
  const auto vehicle = vehicles_.find(answer.vehicle);
  std::erase_if(out, [&](const Announcement& said) {
    const auto* known = vehicle == vehicles_.end() ? nullptr : find(vehicle->second, said);
    if (known == nullptr) {
      return true;
    }
    const bool unread = known->seen && (!integrated || *known->seen > *integrated);
    auto then = *known;
    say(then, said, answer.at);
    return (unread && said.word != Word::taken_back) ||
           (then.look == known->look && then.ready == known->ready);
  });
  return out;
}

}  // namespace dryclock::engine
