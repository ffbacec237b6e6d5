#include "history/boots.hpp"

#include <algorithm>
#include <optional>
#include <span>

namespace dryclock::history {
namespace {

constexpr std::chrono::hours last_put_down{2};
constexpr Time before_this_program = std::chrono::sys_days{std::chrono::year{2026} / 1 / 1};

// One boot while it is being judged.
struct Case {
  const Boot* boot;
  Time booted;
  std::optional<ClockFault> fault;

  [[nodiscard]] Time first() const { return booted + boot->stretches.front().first; }
  [[nodiscard]] Time last() const { return booted + boot->stretches.back().last; }
};

bool apart(Time a, Time b) {
  return a - b > clock_slack || b - a > clock_slack;
}

Case alone(const Boot& boot) {
  Case out{&boot, boot.stretches.back().ended, std::nullopt};
  const auto stepped = std::ranges::adjacent_find(
      boot.stretches, [](const Stretch& one, const Stretch& next) { return apart(one.ended, next.booted); });
  if (stepped != boot.stretches.end()) {
    out.fault = ClockFault::stepped;
  }
  return out;
}

// Of those whose time is known.
Time oldest_of(std::span<const Case> cases) {
  Time oldest = Time::max();
  for (const Case& one : cases) {
    oldest = one.fault == ClockFault::behind ? oldest : std::min(oldest, one.first());
  }
  return oldest == Time::max() ? Time::min() : oldest;
}

bool is_behind(const Case& now, const Case& before, Time oldest) {
  return now.first() < before_this_program ||
         (!now.boot->trusted &&
          (before.boot->trusted || now.first() < oldest || before.last() - now.first() < last_put_down));
}

// Its clock says too early a time: devices may know better, else it follows what came before.
void put_right(Case& now, Time before) {
  const Millis first = now.boot->stretches.front().first;
  if (const auto began = now.boot->by_devices;
      began && *began + first >= before_this_program && *began + first + clock_slack >= before) {
    now.booted = *began;
    now.fault = ClockFault::by_devices;
    return;
  }
  if (now.first() + clock_slack < before) {
    now.booted += before - now.first();
  }
  now.fault = ClockFault::behind;
}

// Those that end after the next begins end where it begins.
void move_back(std::vector<Case>& cases, std::size_t next) {
  for (std::size_t i = next; i-- > 0;) {
    const Time begins = cases[i + 1].booted;
    if (cases[i].last() <= begins + clock_slack) {
      return;
    }
    cases[i].booted -= cases[i].last() - begins;
    cases[i].fault = ClockFault::ahead;
  }
}

// Absent: its rows stand as they are.
std::optional<Redated> redated(const Case& judged) {
  if (!judged.fault) {
    return std::nullopt;
  }
  Redated out{judged.boot->id, judged.booted, 0, 0, Millis{0}, *judged.fault};
  for (const Stretch& one : judged.boot->stretches) {
    const Millis by = judged.booted - one.booted;
    if (!apart(one.booted, judged.booted) && !apart(one.ended, judged.booted)) {
      continue;
    }
    if (std::chrono::abs(by) > std::chrono::abs(out.by)) {
      out.by = by;
    }
    if (one.first_row > 0) {
      out.first = out.first == 0 ? one.first_row : out.first;
      out.last = one.last_row;
    }
  }
  return out;
}

}  // namespace

Judged judge(const std::vector<Boot>& boots) {
  std::vector<Case> cases;
  cases.reserve(boots.size());
  for (const Boot& boot : boots) {
    cases.push_back(alone(boot));
  }
  for (std::size_t i = 0; i < cases.size(); ++i) {
    Case& now = cases[i];
    const Time before = i == 0 ? Time::min() : cases[i - 1].last();
    const bool too_early = now.first() + clock_slack < before;
    if (too_early && !is_behind(now, cases[i - 1], oldest_of({cases.data(), i}))) {
      move_back(cases, i);
    } else if (too_early || now.first() < before_this_program) {
      put_right(now, before);
    }
  }
  Judged out;
  for (const Case& one : cases) {
    // Of an earlier boot that was dated before there is nothing new to say.
    if (auto row = redated(one); row && (row->first > 0 || &one == &cases.back())) {
      out.redated.push_back(std::move(*row));
    }
  }
  out.booted = cases.back().booted;
  out.known = cases.back().fault != ClockFault::behind;
  out.trusted = cases.back().boot->trusted;
  return out;
}

}  // namespace dryclock::history
