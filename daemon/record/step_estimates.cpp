#include "record/step_estimates.hpp"

#include <algorithm>

#include "domain/milestones.hpp"

namespace dryclock::record {
namespace {

// What a row said of the milestone that the step asked for. Rows of before it was asked whether a piece may
// leave told of a release that it was dry.
std::optional<Said> said_at(const ShownRows& rows, const history::RecordedEvent& deed, PieceId piece,
                            models::Milestone asked) {
  auto said = rows.said_at(deed, piece, asked);
  return said || asked != models::Milestone::may_leave ? said
                                                       : rows.said_at(deed, piece, models::Milestone::clear);
}

// `now`: the piece with all that is known now.
void compare(StepEstimate& step, const PieceSummary& now, const std::optional<Said>& said) {
  step.again = step.probability;
  step.again_held_by = step.held_by;
  const auto worked_out = std::ranges::find(now.early_steps, step.event, &EarlyStep::event);
  if (worked_out != now.early_steps.end()) {
    step.again = worked_out->probability;
    step.still_wet = worked_out->still_wet;
  }
  const auto& announced = milestone_of(now, step.asked).announced;
  step.again_announced = announced && *announced <= step.at ? announced : std::nullopt;
  if (said) {
    step.probability = said->milestone.probability;
    step.announced = said->milestone.announced;
    step.look = said->milestone.look;
    step.by_word = said->milestone.by_word;
    step.held_by = ready_words(said->milestone.held_by);
    step.limiting = said->milestone.limiting;
    step.kept = said->at;
  }
}

std::optional<StepEstimate> estimate(const history::RecordedEvent& entry, PieceId piece,
                                     const std::map<Seq, VehicleSummary>& then) {
  const auto asked = asked_by(entry.event.detail);
  if (entry.superseded || !asked || (asked->piece != 0 && asked->piece != piece)) {
    return std::nullopt;
  }
  StepEstimate out;
  out.event = entry.row.seq;
  out.step = event_names[entry.event.detail.index()];
  out.asked = asked->milestone;
  out.at = entry.event.at;
  if (const auto seen = then.find(entry.row.seq); seen != then.end()) {
    for (const auto& one : seen->second.pieces) {
      if (one.id == piece && !one.state.zones.empty()) {
        const auto& milestone = milestone_of(one, asked->milestone);
        out.probability = milestone.probability;
        out.announced = milestone.announced;
        out.look = milestone.announced ? std::nullopt : milestone.look;
        out.by_word = milestone.by_word;
        out.held_by = milestone.held_by;
        out.limiting = milestone.announced ? std::nullopt : milestone.limiting_zone;
      }
    }
  }
  return out;
}

}  // namespace

std::vector<StepEstimate> steps_of(const PieceSummary& piece,
                                   const std::vector<history::RecordedEvent>& events,
                                   const std::map<Seq, VehicleSummary>& then, const ShownRows& rows) {
  std::vector<StepEstimate> out;
  for (const auto& entry : events) {
    auto step = estimate(entry, piece.id, then);
    const bool gone = piece.replaced_by || (piece.removed && entry.event.at > *piece.removed);
    if (step && !(step->step == "released" && gone)) {
      compare(*step, piece, said_at(rows, entry, piece.id, step->asked));
      out.push_back(std::move(*step));
    }
  }
  std::ranges::stable_sort(out, {}, &StepEstimate::at);
  return out;
}

}  // namespace dryclock::record
