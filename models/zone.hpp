// One zone of a piece under all members at once: its liquid, the moisture in its film, and its contact.
//
// Diffusion along the polymer is negligible (1 mm in 12 h), so the zone is a set of columns: wet ones, over
// liquid, and dry ones, whose liquid has gone. All wet columns look alike; the dry ones are carried as one
// field u = (dry share) * (their mean), which obeys the same linear equation, fed by the columns that have
// just dried:
//     S du/dtau = d/dx (k du/dx) + S (-d(wet)/dtau) a_wet(x, tau).
// The wet share is the wetted fraction of the layer times what the front from a free margin has left. Since
// the air outside never pulls a face above saturation (dew forms on the film, not under it) liquid never
// comes back under dried film, and the wet share only falls.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "models/film_modes.hpp"
#include "models/lane_loops.hpp"
#include "models/lanes.hpp"
#include "models/thermal_step.hpp"
#include "models/water_layer.hpp"
#include "models/wet_film.hpp"

namespace dryclock::models {

// One step of film that has no liquid under it; `jump` is what a_out did between the step before and this
// one.
void advance_dry_film(const FilmModes& modes, const ThermalStep& step, double jump, DryField& dry);

class Zone {
 public:
  // `solution` in g/m2 per member, right after the squeegee; the film is in equilibrium with `activity`
  // (a_out). edge_width 0: no free margin.
  Zone(const FilmModes& modes, const WaterLayer& layer, const Lanes& solution, double alcohol_fraction,
       double activity, double edge_width);

  // One step. The front's d(L^2) over it [m2]; the bond clock before and after [s at 23 C].
  void advance(const FilmModes& modes, const ThermalStep& step, double front_squared, double clock_before,
               double clock_after);

  [[nodiscard]] Lanes water() const;                    // g/m2, mean over the zone
  [[nodiscard]] std::array<bool, members> dry() const;  // mean water below the dry limit
  // Moisture in the film above equilibrium with the air after the last step. [g/m2]
  [[nodiscard]] Lanes excess(const FilmModes& modes) const;
  // A member's bond averaged over the zone's area, at this reading of the bond clock. [0..1]
  [[nodiscard]] double bond(double clock, std::size_t member) const;
  [[nodiscard]] const Lanes& liquid() const { return liquid_; }  // coordinate of water_layer.hpp
  // Amplitudes of the modes, wet and dry, and the activity a_eff that the wet ones see outside: what every
  // sum over the film is made of.
  [[nodiscard]] const WetField& wet_field() const { return film_.amplitudes(); }
  [[nodiscard]] const DryField& dry_field() const { return dry_; }
  [[nodiscard]] const Lanes& seen_outside() const { return film_.outer(); }
  // Hours at 21 C and 50 %RH until dry(), in closed form: the liquid and the film's own uptake against the
  // steady flux, a correction for modes still moving, and the front if it comes first. `openness` scales the
  // front. [h]
  [[nodiscard]] Lanes standard_hours(const FilmModes& modes, const Lanes& factor, double openness) const;

 private:
  void move_outside(const FilmModes& modes, const ThermalStep& step);
  void raise_liquid_activity(const FilmModes& modes, double at_least);
  [[nodiscard]] double margin_left(double front_squared) const;  // share of the width it has not reached
  [[nodiscard]] double dry_limit() const;                        // of liquid_

  WaterLayer layer_;
  double alcohol_fraction_;
  double edge_width_;              // m
  double outside_;                 // a_out after the last step
  double front_squared_ = 0.0;     // L^2, m2
  bool fresh_ = true;              // no step yet
  bool all_whole_ = true;          // every member wet all over: nothing in the dry field
  bool all_gone_ = false;          // no member has a wet share worth integrating
  std::size_t parts_touched_ = 0;  // parts of all members that are in contact

  Lanes first_water_{};  // g/m2
  Lanes liquid_{};       // WaterLayer coordinate
  WetFilm film_;
  DryField dry_{};
  std::array<Lanes, contact_parts> contact_{};  // bond clock at first contact; +infinity: still wet
};

}  // namespace dryclock::models
