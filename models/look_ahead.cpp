// When the members of a piece get where, under a forecast of the bay's air.
#include <algorithm>
#include <cmath>

#include "models/air_block.hpp"
#include "models/piece_state.hpp"

namespace dryclock::models {
namespace {

// The film still settles while it is fresh, and its liquid then does not fall evenly within a long step.
constexpr Seconds fresh{3600.0};
// Within half an hour a heater goes through its cycle, and a moment looked up inside is off by minutes;
// within a quarter it is off by less than two.
constexpr Seconds longest_look{900.0};

// Where in 0..1 a condition begins to hold that does not hold at 0 but at 1.
template <class Holds>
double begins(Holds holds) {
  double low = 0.0;
  double high = 1.0;
  for (int i = 0; i < 12; ++i) {  // half a second of half an hour
    const double middle = 0.5 * (low + high);
    (holds(middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace

// Carries a copy of the piece through the forecast and notes what its members reach.
class LookAhead {
 public:
  explicit LookAhead(const Piece::State& start) : s_(start), before_(start.parts.size()) {
    for (Lanes& lanes : first_) {
      lanes.fill(never);
    }
    for (Piece::State::Part& part : s_.parts) {
      if (!s_.concerns(Milestone::trim_ready, part.kind)) part.follow = Follow::liquid;
    }
    if (!s_.reached_known) s_.judge();
    note(0.0);
  }

  // In blocks of at most `longest`.
  void run(std::span<const Surroundings> points, Seconds spacing, Seconds longest) {
    while (points.size() > 1 && !all_there_) {
      remember();
      std::size_t taken = s_.advance_block(points, spacing, longest);
      if (taken == 0) {
        s_.advance_interval(points[0], points[1], spacing);
        even_out();
        taken = 1;
      }
      s_.judge();
      note(spacing.value() * static_cast<double>(taken));
      points = points.subspan(taken);
    }
  }
  [[nodiscard]] const MemberTimes& times() const { return first_; }

 private:
  struct Before {
    Lanes liquid{}, excess{};
    double front_squared = 0.0;
  };

  void remember() {
    clock_before_ = s_.clock;
    for (std::size_t i = 0; i < before_.size(); ++i) {
      const Piece::State::Part& part = s_.parts[i];
      before_[i].liquid = part.zone.liquid();
      before_[i].front_squared = part.zone.front_squared();
      if (part.follow == Follow::film) before_[i].excess = s_.excess(part);
    }
  }

  // Over an interval that took several steps the last one's course says little.
  void even_out() {
    constexpr Course even{1.0, 1.0, 1.0};
    s_.bonding = even;
    for (Piece::State::Group& group : s_.groups) {
      group.drying = even;
    }
  }

  void note(double seconds) {
    constexpr unsigned every = (1U << milestone_kinds) - 1U;
    constexpr unsigned edges = 1U << static_cast<unsigned>(Milestone::wrap_ready) |
                               1U << static_cast<unsigned>(Milestone::trim_ready);
    unsigned by_all = every;
    for (std::size_t m = 0; m < members; ++m) {
      const unsigned fresh_bits = s_.reached[m] & ~ever_[m];
      for (std::size_t k = 0; k < milestone_kinds && fresh_bits != 0; ++k) {
        if ((fresh_bits >> k & 1U) == 0) continue;
        first_[k][m] = now_ + (seconds > 0.0 ? seconds * last_met(static_cast<Milestone>(k), m) : 0.0);
      }
      ever_[m] |= s_.reached[m];
      by_all &= ever_[m];
    }
    now_ += seconds;
    all_there_ = by_all == every;
    if ((by_all & edges) == edges) {
      for (Piece::State::Part& part : s_.parts) {
        part.follow = Follow::liquid;
      }
    }
  }

  // Where in the last block the last of a milestone's conditions was met.
  [[nodiscard]] double last_met(Milestone milestone, std::size_t m) const {
    double last = 0.0;
    for (std::size_t i = 0; i < before_.size(); ++i) {
      const Piece::State::Part& part = s_.parts[i];
      const Asked asks = s_.asked(milestone, part.kind);
      if (asks.dry) last = std::max(last, dries(part, before_[i], m));
      if (asks.bond > 0.0) last = std::max(last, bonds(part, asks.bond, m));
      if (asks.excess < never) last = std::max(last, clears(part, before_[i], asks.excess, m));
    }
    return last;
  }

  // The liquid falls by the steady flux, the front recedes evenly.
  [[nodiscard]] double dries(const Piece::State::Part& part, const Before& before, std::size_t m) const {
    const Course& drying = s_.groups[part.group].drying;
    const auto dry = [&](double x) {
      const double liquid = before.liquid[m] + drying.share(x) * (part.zone.liquid()[m] - before.liquid[m]);
      const double front = before.front_squared + x * (part.zone.front_squared() - before.front_squared);
      return part.zone.would_be_dry(liquid, front);
    };
    return dry(0.0) ? 0.0 : begins(dry);
  }
  [[nodiscard]] double bonds(const Piece::State::Part& part, double level, std::size_t m) const {
    const auto bonded = [&](double x) {
      const double clock = clock_before_ + s_.bonding.share(x) * (s_.clock - clock_before_);
      return part.zone.bond_product(clock, m) >= level;
    };
    return bonded(0.0) ? 0.0 : begins(bonded);
  }
  // The film's moisture falls as an exponential.
  [[nodiscard]] double clears(const Piece::State::Part& part, const Before& before, double below,
                              std::size_t m) const {
    if (before.excess[m] < below) return 0.0;
    const double after = s_.excess(part)[m];
    if (!(after > 0.0) || after >= before.excess[m]) return 1.0;
    return std::clamp(std::log(before.excess[m] / below) / std::log(before.excess[m] / after), 0.0, 1.0);
  }

  Piece::State s_;
  std::vector<Before> before_;
  double clock_before_ = 0.0;
  double now_ = 0.0;  // s
  MemberTimes first_;
  std::array<unsigned, members> ever_{};
  bool all_there_ = false;
};

MemberTimes Piece::look_ahead(std::span<const Surroundings> forecast, Seconds spacing) const {
  LookAhead look(*state_);
  if (!(spacing.value() > 0.0) || !std::isfinite(spacing.value())) return look.times();
  const auto first = static_cast<std::size_t>(std::ceil(fresh / spacing)) + 1;
  look.run(forecast.first(std::min(first, forecast.size())), spacing, panel_step);
  if (forecast.size() > first) look.run(forecast.subspan(first - 1), spacing, longest_look);
  return look.times();
}

}  // namespace dryclock::models
