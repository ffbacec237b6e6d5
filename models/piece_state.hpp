// What a piece is made of: for piece.cpp, which carries it on, and look_ahead.cpp, which looks into its
// steps.
#pragma once

#include <cstddef>
#include <limits>
#include <memory>
#include <span>
#include <vector>

#include "models/air_steps.hpp"
#include "models/film_modes.hpp"
#include "models/piece.hpp"
#include "models/thermal_step.hpp"
#include "models/zone.hpp"

namespace dryclock::models {

// A rate over one step: the parabola through its begin, middle and end.
struct Course {
  double begin = 0.0, middle = 0.0, end = 0.0;
  // Share of the rate's integral that the first `x` of the step has. [0..1]
  [[nodiscard]] double share(double x) const;
};

// What a milestone asks of one zone.
struct Asked {
  bool dry = false;
  double excess = std::numeric_limits<double>::infinity();  // less than this
  double bond = 0.0;                                        // at least this, as Zone::bond_product
};

struct Piece::State {
  explicit State(const AirSteps& from_lay) : steps(from_lay) {}

  // Zones under the same air layer share their modes and steps.
  struct Group {
    std::shared_ptr<const FilmModes> modes;
    bool stagnant = false;
    Instant now;
    DryField laid_dry{};  // of film laid dry at the same moment: all that the air alone has done to it
    Course drying;        // of the last step, theta (1 - a_out)
  };
  struct Part {
    ZoneKind kind;
    std::size_t group;
    Zone zone;
    double openness;  // of the free margin; 0: none
    Follow follow = Follow::film;
  };

  Thresholds thresholds;
  struct BondLevels {
    double wrap = 0.0, trim = 0.0, refit = 0.0, release = 0.0;
  } levels;                   // the same thresholds as Zone::bond_product
  MetresPerSecond still_air;  // h_m of the open bay

  std::vector<Group> groups;
  std::vector<Part> parts;
  Lanes factor{};  // members' film resistance against the stack's
  Weights weights;

  AirSteps steps;
  bool alcohol = false;           // the liquid's activity rises as it leaves, in a step of its own each time
  double clock = 0.0;             // bond clock, s at 23 C
  Course bonding;                 // of the last step, how fast the bond clock ran
  double excess_reference = 1.0;  // g/m2 per unit inner_content: 1 - a_out at lay
  std::uint8_t film_validity = valid;

  mutable std::vector<std::uint8_t> reached;
  mutable bool reached_known = false;

  [[nodiscard]] const FilmModes& modes_of(const Part& part) const { return *groups[part.group].modes; }
  [[nodiscard]] Instant sense(const Group& group, const Surroundings& air, double panel_c) const;
  [[nodiscard]] Lanes excess(const Part& part) const;
  [[nodiscard]] Lanes bond(const Part& part) const;
  // One interval of linear air, in as many steps as it needs.
  void advance_interval(const Surroundings& from, const Surroundings& to, Seconds duration);
  // The first readings, `spacing` apart, as one step of at most block_length(`longest`). How many
  // intervals; 0: they need finer steps, and nothing has been done.
  std::size_t advance_block(std::span<const Surroundings> points, Seconds spacing, Seconds longest);
  // Of a block that may be as long as `longest`: shorter with alcohol.
  [[nodiscard]] Seconds block_length(Seconds longest) const;
  void step(const AirStep& air_step);
  void judge() const;
  [[nodiscard]] Asked asked(Milestone milestone, ZoneKind kind) const;
  [[nodiscard]] bool has(ZoneKind kind) const;
  [[nodiscard]] bool concerns(Milestone milestone, ZoneKind kind) const;
  [[nodiscard]] std::size_t limiting_zone(Milestone milestone, const std::vector<ZoneView>& zones) const;
};

}  // namespace dryclock::models
