// What the house knows of each milestone, once.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "domain/event.hpp"
#include "domain/view.hpp"
#include "models/milestone.hpp"

namespace dryclock {

struct MilestoneTraits {
  std::string_view word;  // in JSON, the database and on the command line
  // When the step that it allows was done; null: none waits for it.
  std::optional<Time> PieceSummary::*done;
};
// In the order of the enumeration.
inline constexpr std::array<MilestoneTraits, models::milestone_kinds> milestone_traits{{
    {"liquid-gone", nullptr},
    {"wrap-ready", &PieceSummary::wrapped},
    {"trim-ready", &PieceSummary::trimmed},
    {"refit-ready", &PieceSummary::refitted},
    {"clear", nullptr},
    {"may-leave", nullptr},
}};

static_assert(!milestone_traits.back().word.empty(), "a milestone has no traits");

[[nodiscard]] constexpr const MilestoneTraits& traits(models::Milestone milestone) {
  return milestone_traits[static_cast<std::size_t>(milestone)];
}

[[nodiscard]] inline const MilestoneView& milestone_of(const PieceSummary& piece,
                                                       models::Milestone milestone) {
  return piece.milestones[static_cast<std::size_t>(milestone)];
}

// When the step that a milestone allows was done on that piece.
[[nodiscard]] inline std::optional<Time> done_at(const PieceSummary& piece, models::Milestone milestone) {
  const auto done = traits(milestone).done;
  return done == nullptr ? std::nullopt : piece.*done;
}

// The milestone that a step asks for, and its piece; 0: all that are on the vehicle.
struct StepAsks {
  models::Milestone milestone = models::Milestone::may_leave;
  PieceId piece = 0;
};
[[nodiscard]] inline std::optional<StepAsks> asked_by(const EventDetail& step) {
  if (const auto* wrapped = std::get_if<EdgeWrapped>(&step)) {
    return StepAsks{models::Milestone::wrap_ready, wrapped->piece};
  }
  if (const auto* trimmed = std::get_if<Trimmed>(&step)) {
    return StepAsks{models::Milestone::trim_ready, trimmed->piece};
  }
  if (const auto* refitted = std::get_if<Refitted>(&step)) {
    return StepAsks{models::Milestone::refit_ready, refitted->piece};
  }
  return std::holds_alternative<Released>(step) ? std::optional{StepAsks{}} : std::nullopt;
}

}  // namespace dryclock
