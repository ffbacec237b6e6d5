// One piece of film, from lay to release: its zones, what each still holds, and which milestones are reached.
//
// A piece carries a weighted ensemble: the same zones under members drawn, once and reproducibly, from
// the parameter ranges. So every answer has its spread, and an inspection can weigh the members.
// A Piece is a value: copy it to look ahead (outlook) without touching the state.
// The state is a pure function of what was passed in, bit for bit, on one machine type.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "models/catalogue.hpp"
#include "models/ensemble.hpp"
#include "models/inspection.hpp"
#include "models/lanes.hpp"
#include "models/units.hpp"

namespace dryclock::models {

// wrap_ready   edge liquid gone, edge excess low, the field's bond holds while the edge is pulled
// trim_ready   edge liquid gone, edge excess lower, the edge's own bond holds
// refit_ready  every zone's liquid gone, every bond up to refit_bond
// dry          every zone's liquid gone, every bond up to release_bond
// A piece without edge zones is judged by its other zones instead; one without a field, by its edges.
enum class Milestone : std::uint8_t { wrap_ready, trim_ready, refit_ready, dry };
inline constexpr std::size_t milestone_kinds = 4;

// Thresholds of physics.md "Milestones"; all of them configurable.
struct Thresholds {
  double wrap_excess = 0.25, wrap_bond = 0.50;
  double trim_excess = 0.10, trim_bond = 0.60;
  double refit_bond = 0.75, release_bond = 0.90;
  GramsPerSquareMetre dry_below{0.05};
  bool operator==(const Thresholds&) const = default;
};

struct ZoneSpec {
  ZoneKind kind = ZoneKind::field;
  Range water_layer;         // g/m2 right after the squeegee
  Metres edge_width{0.010};  // edge zones: how far water lies from the free margin
  bool operator==(const ZoneSpec&) const = default;
};

struct PieceSpec {
  FilmStack stack;
  Solution solution;
  PanelThermal panel;
  std::vector<ZoneSpec> zones;
  GramsPerSquareMetre break_up{1.5};      // w_c: below it the layer is in patches
  double air_layer_coefficient = 2.3e-3;  // h_m, m/s, still bay
  Celsius panel_at_lay{21.0};
  std::uint64_t seed = 0;  // of the members' draw; the piece's id
  bool operator==(const PieceSpec&) const = default;
};

struct ZoneView {
  ZoneKind kind = ZoneKind::field;
  Quantiles water;             // g/m2 of liquid left
  Quantiles excess;            // moisture from the liquid that is still in the film: what it holds beyond the
                               // same film laid dry, in the same air; as a fraction of what it holds over
                               // liquid in the air at lay (a_out of 0.8 at most), 0..1
  Quantiles bond;              // 0..1
  Quantiles hours_to_go;       // standard hours until this zone is dry (its liquid); 0 when it is. In closed
                               // form: the liquid against the steady flux, with what the film still takes up
  double dry_probability = 0;  // weight of the members whose liquid is gone
  std::uint8_t validity = valid;
};

struct PieceView {
  std::vector<ZoneView> zones;
  double probability[milestone_kinds] = {};  // weight of the members that have reached each Milestone now
  std::size_t limiting_zone[milestone_kinds] = {};  // the zone that holds it back (index into zones)
  Celsius panel;                                    // modelled or measured
  std::uint8_t validity = valid;
};

// When each member first is at each milestone, in seconds; +infinity where it is not within the forecast.
using MemberTimes = std::array<Lanes, milestone_kinds>;

class Piece {
 public:
  // `at_lay` is the air at the moment of laying; the film starts in equilibrium with it.
  Piece(const PieceSpec& spec, const Thresholds& thresholds, const Surroundings& at_lay);
  Piece(const Piece&);
  Piece(Piece&&) noexcept;
  Piece& operator=(const Piece&);
  Piece& operator=(Piece&&) noexcept;
  ~Piece();

  // Air between `from` and `to` is linear over `duration` (> 0).
  void advance(const Surroundings& from, const Surroundings& to, Seconds duration);
  // The same through many readings, `spacing` apart, the first of them now: in blocks of up to half an hour
  // (five minutes with alcohol) where the air is steady enough, see models/air_block.hpp; from reading to
  // reading where not. Drying times agree to 0.1 %; what the film shows as excess at a block's end is known
  // to 0.03 where the last reading is noisy.
  void advance(std::span<const Surroundings> points, Seconds spacing);

  // When the members get there under a forecast: its air `spacing` apart, the first of it now. In
  // blocks of a quarter of an hour at most, shorter within the first; a moment inside a block is looked up
  // there. The piece itself stays as it is. Within 300 s of fine steps whatever the air does
  // (tests/models/test_look_ahead.cpp).
  [[nodiscard]] MemberTimes look_ahead(std::span<const Surroundings> forecast, Seconds spacing) const;

  void open_edges();  // an edge was lifted or trimmed open: it dries faster
  void wrap_edges();  // the edge zones are turned round: stagnant air from now on
  void inspect(std::size_t zone, Finding finding);  // weighs the members; never edits water by hand

  [[nodiscard]] PieceView view() const;
  // Whether each member has reached each milestone now: rows of members(), bit m = Milestone m.
  [[nodiscard]] const std::vector<std::uint8_t>& reached() const;
  [[nodiscard]] const std::vector<double>& weights() const;  // sum 1

 private:
  friend class LookAhead;
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::models
