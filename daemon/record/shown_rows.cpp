#include "record/shown_rows.hpp"

#include <algorithm>
#include <map>

#include "wire/shown_json.hpp"

namespace dryclock::record {
namespace {

const ShownPiece* piece_in(const Shown& shown, PieceId piece) {
  if (!shown.vehicle) {
    return nullptr;
  }
  const auto found = std::ranges::find(shown.vehicle->pieces, piece, &ShownPiece::piece);
  return found == shown.vehicle->pieces.end() ? nullptr : &*found;
}

void say(MilestoneView& view, const ShownMilestone& said) {
  view.probability = said.probability;
  view.announced = said.announced;
  view.expected = said.expected.value_or(said.announced ? Spread{} : view.expected);
  view.held_by = said.held_by;
}

void move(ShownMilestone& milestone, Millis by) {
  const auto move_one = [by](std::optional<Time>& time) {
    if (time) {
      *time += by;
    }
  };
  move_one(milestone.announced);
  if (milestone.expected) {
    move_one(milestone.expected->early);
    move_one(milestone.expected->likely);
    move_one(milestone.expected->late);
  }
}

// What it leaves out is as before.
ShownMilestone after(const std::optional<Said>& before, ShownMilestone now) {
  if (before && !now.announced) {
    now.expected = now.expected ? now.expected : before->milestone.expected;
    now.limiting = now.limiting ? now.limiting : before->milestone.limiting;
  }
  return now;
}

void move(Shown& shown, Millis by) {
  shown.at += by;
  if (!shown.vehicle) {
    return;
  }
  if (shown.vehicle->release) {
    move(*shown.vehicle->release, by);
  }
  for (auto& piece : shown.vehicle->pieces) {
    for (auto& milestone : piece.milestones) {
      if (milestone) {
        move(*milestone, by);
      }
    }
  }
}

std::string id_of(const ShownAlert& alert) {
  return std::string{name_of(alert.rule)} + "/" + alert.subject;
}

}  // namespace

ShownRows::ShownRows(VehicleId vehicle, const std::vector<JournalRow>& rows, const history::Dates& dates) {
  for (const auto& row : rows) {
    const VehicleId whose = shown_vehicle(row.message.topic);
    if (row.kind != RowKind::shown || (whose != 0 && whose != vehicle)) {
      continue;
    }
    if (auto shown = wire::read_shown(whose, row.message.payload)) {
      const Time label = row.message.received_at;
      move(*shown, dates.of({row.kind, label, row.boot_time, row.session}) - label);
      rows_.push_back({row.seq, std::move(*shown), row.message.payload});
    }
  }
}

const ShownRow* ShownRows::before(Seq event) const {
  const auto found = std::ranges::lower_bound(rows_, event - 1, {}, &ShownRow::seq);
  const bool is_it = found != rows_.end() && found->seq == event - 1 && found->shown.why == ShownWhy::deed;
  return is_it ? &*found : nullptr;
}

std::optional<Said> ShownRows::said(PieceId piece, models::Milestone which, Time until, Seq last_row) const {
  std::optional<Said> last;
  for (const auto& row : rows_) {
    if (row.shown.at > until || row.seq > last_row) {
      break;
    }
    const auto* told = piece_in(row.shown, piece);
    const auto* milestone = told == nullptr ? nullptr : &told->milestones[static_cast<std::size_t>(which)];
    if (milestone != nullptr && *milestone) {
      last = Said{row.shown.at, after(last, **milestone)};
    } else if (last && row.shown.why == ShownWhy::hourly) {
      last->at = row.shown.at;
    }
  }
  return last;
}

std::vector<ToldAlert> ShownRows::alerts(
    const std::function<bool(const ShownAlert&, Time at)>& concerns) const {
  std::vector<ToldAlert> out;
  std::map<std::string, std::size_t> newest;  // by id
  for (const auto& row : rows_) {
    for (const auto& alert : row.shown.alerts) {
      const auto open = newest.find(id_of(alert));
      if (alert.step == AlertStep::raised) {
        if (row.shown.vehicle || concerns(alert, row.shown.at)) {
          newest[id_of(alert)] = out.size();
          out.push_back({row.shown.at, alert, {}, {}, {}});
        }
      } else if (open != newest.end()) {
        auto& told = out[open->second];
        if (alert.step == AlertStep::restated) {
          told.alert.text = alert.text;
        } else {
          (alert.step == AlertStep::cleared ? told.cleared : told.seen) = row.shown.at;
        }
      }
    }
    for (const auto& one : row.shown.deliveries) {
      if (const auto told = newest.find(one.alert); told != newest.end()) {
        out[told->second].deliveries.push_back({row.shown.at, one.channel, one.given_up.has_value()});
      }
    }
  }
  return out;
}

std::vector<ShownRow> ShownRows::own() const {
  std::vector<ShownRow> out;
  std::ranges::copy_if(rows_, std::back_inserter(out),
                       [](const ShownRow& row) { return row.shown.vehicle.has_value(); });
  return out;
}

void say(VehicleSummary& view, const ShownVehicle& said) {
  if (said.release) {
    view.release_probability = said.release->probability;
    view.release_ready = said.release->announced;
    view.release_expected = said.release->expected.value_or(Spread{});
    view.held_by = said.release->held_by;
  }
  view.hand_over_probability = said.hand_over_probability.value_or(view.hand_over_probability);
  for (const auto& piece : said.pieces) {
    const auto found = std::ranges::find(view.pieces, piece.piece, &PieceSummary::id);
    for (std::size_t k = 0; found != view.pieces.end() && k < models::milestone_kinds; ++k) {
      if (piece.milestones[k]) {
        say(found->milestones[k], *piece.milestones[k]);
      }
    }
  }
}

}  // namespace dryclock::record
