#include "compute/judge.hpp"

#include <algorithm>

namespace dryclock::compute {
namespace {

using models::Milestone;
using namespace std::chrono_literals;

constexpr Millis soon = 10min, a_minute = 1min;

bool is_known(const OutlookTask& task, const OutlookTask::Item& piece) {
  return piece.looked_at || task.known_films.contains(piece.film);
}

// Of the vehicle: 0 while it cannot leave at all.
double release_chance(const OutlookTask& task, const OutlookAnswer& answer) {
  const bool kept = task.to_lay.empty() && task.now >= task.earliest_release;
  return kept ? answer.release_probability : 0.0;
}

bool condensing(const OutlookTask& task) {
  return std::ranges::any_of(task.pieces, &OutlookTask::Item::condensing);
}

}  // namespace

Standing standing(const OutlookTask& task, const OutlookTask::Item& piece, Milestone which) {
  return {piece.said[static_cast<std::size_t>(which)], is_known(task, piece)};
}

Standing release_standing(const OutlookTask& task) {
  const bool pieces =
      std::ranges::all_of(task.pieces, [&](const auto& piece) { return is_known(task, piece); });
  const bool planned = std::ranges::all_of(
      task.to_lay, [&](const auto& piece) { return task.known_films.contains(piece.film); });
  return {task.release_said, pieces && planned};
}

std::optional<double> next_level(const Standing& standing, double announce_level) {
  if (standing.said.ready) return std::nullopt;
  if (standing.known) return announce_level;
  if (standing.said.look) return std::nullopt;
  return std::min(look_level, announce_level);
}

std::optional<Word> word_for(double chance, const Standing& standing, double announce_level) {
  const auto& said = standing.said;
  if (said.by_word) return std::nullopt;
  if (const auto level = next_level(standing, announce_level); level && chance >= *level) {
    return standing.known ? Word::ready : Word::look;
  }
  if (!said.ready && !said.look) return std::nullopt;
  const double said_at = said.ready ? announce_level : std::min(look_level, announce_level);
  return chance < said_at - taken_back_below ? std::optional{Word::taken_back} : std::nullopt;
}

std::vector<Announcement> judge(const OutlookTask& task, const OutlookAnswer& answer) {
  std::vector<Announcement> out;
  for (std::size_t i = 0; i < task.pieces.size(); ++i) {
    const auto& piece = task.pieces[i];
    for (std::size_t which = 0; which < models::milestone_kinds; ++which) {
      if (!piece.needed[which]) continue;
      const auto milestone = static_cast<Milestone>(which);
      const double chance = answer.pieces[i].reach[which].probability;
      if (const auto word = word_for(chance, standing(task, piece, milestone), task.announce_level)) {
        out.push_back({piece.id, milestone, *word, chance});
      }
    }
  }
  if (task.pieces.empty() && task.to_lay.empty()) return out;
  const double chance = release_chance(task, answer);
  const auto word = word_for(chance, release_standing(task), task.announce_level);
  if (word && (*word == Word::taken_back || !condensing(task))) {
    out.push_back({0, Milestone::may_leave, *word, chance});
  }
  return out;
}

std::optional<Time> ask_again(const OutlookTask& task, const OutlookAnswer& answer) {
  std::optional<Time> next;
  const auto foreseen = [&](const std::optional<Time>& at) {
    if (at && *at > task.now && *at <= task.now + soon) {
      next = std::min(next.value_or(*at), *at);
    }
  };
  for (const auto& piece : answer.pieces) {
    for (const auto& reach : piece.reach) {
      foreseen(reach.announces);
    }
  }
  foreseen(answer.release_announces);
  return next ? std::optional{std::max(*next, task.now + a_minute)} : std::nullopt;
}

}  // namespace dryclock::compute
