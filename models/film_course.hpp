// What the film of one stack drinks from a whole layer of water, in one history of the air: everything about
// a piece that does not depend on how much water it was left with. Under resistances side by side, one in
// each lane.
//
// In the coordinate l of the liquid (water_layer.hpp) every first layer l_0 obeys l = l_0 - U(t), whatever it
// began with, as the columns of a zone do not talk to each other. So the water of all pieces of one film, on
// panels of one kind, in one place, is known from U alone, and what is not known about the water need not be
// integrated. Alcohol breaks this a little: it lowers the liquid's activity until it has left, and how fast
// it leaves depends on how much liquid there was.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <span>

#include "models/air_steps.hpp"
#include "models/bond.hpp"
#include "models/catalogue.hpp"
#include "models/film_modes.hpp"
#include "models/lanes.hpp"
#include "models/wet_film.hpp"

namespace dryclock::models {

struct CourseSpec {
  FilmStack stack;
  PanelThermal panel;
  double air_layer_coefficient = 2.3e-3;  // h_m, m/s, still bay
  Celsius panel_at_lay{21.0};
  bool stagnant = false;  // of an edge turned behind its panel
  Solution solution;
  GramsPerSquareMetre usual_water{3.0};  // at lay, from which the alcohol is taken to leave
  bool operator==(const CourseSpec&) const = default;
};

struct CoursePoint {
  double seconds = 0.0;                   // since lay
  Lanes drunk{};                          // U, g/m2; never falls
  Lanes film_time{};                      // Integral of the film's own thermal time, s
  double front_squared = 0.0;             // of an ideal open gap at a free margin, m2; still where stagnant
  std::array<double, bond_laws> clock{};  // s at 20 C
  bool operator==(const CoursePoint&) const = default;
};

class FilmCourse {
 public:
  // `factor`: film resistances against the stack's. The film is in equilibrium with the air at lay.
  FilmCourse(const CourseSpec& spec, const Lanes& factor, const Surroundings& at_lay);

  // Air between `from` and `to` is linear over `duration` (> 0).
  void advance(const Surroundings& from, const Surroundings& to, Seconds duration);
  // The same through many readings, `spacing` apart, the first of them now: in blocks of up to half an hour
  // (five minutes with alcohol) where the air is steady enough, see models/air_block.hpp; from reading to
  // reading where not. Drying times agree to 0.1 %.
  void advance(std::span<const Surroundings> points, Seconds spacing);
  // What is under this film is turned behind its panel: it goes on in the modes it is in, which see stagnant
  // air as another activity outside (film_modes.hpp).
  void turn_behind() { stagnant_ = true; }

  [[nodiscard]] const CoursePoint& now() const { return now_; }
  [[nodiscard]] const FilmModes& modes() const { return *modes_; }
  [[nodiscard]] const Lanes& factor() const { return factor_; }
  [[nodiscard]] Celsius panel() const { return Celsius{steps_.panel_c()}; }
  [[nodiscard]] std::uint8_t validity() const { return steps_.validity() | modes_->validity; }

 private:
  void step(const AirStep& at);
  [[nodiscard]] Instant sense(const Surroundings& air, double panel_c) const;

  Lanes factor_;
  MetresPerSecond still_air_;
  bool stagnant_;
  double alcohol_fraction_;
  double usual_water_;  // g/m2
  AirSteps steps_;
  std::shared_ptr<const FilmModes> modes_;
  WetFilm film_;
  Lanes liquid_{};  // what the film has drunk, negative
  CoursePoint now_;
};

}  // namespace dryclock::models
