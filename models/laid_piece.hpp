// One piece of film from lay on, as far as it can be known without knowing how much water was left under it:
// what the film of each zone has drunk, its own time, the front at the margin, the clocks of the bond.
//
// Zones in the same air share one run of a FilmCourse; a zone that is wrapped, heated or lit by itself goes
// on in a run of its own from then. A value: copy it to look ahead. A pure function of what was passed in,
// bit for bit, on one machine type; equal pieces are equal.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "models/catalogue.hpp"
#include "models/course_trace.hpp"
#include "models/film_course.hpp"
#include "models/reach.hpp"

namespace dryclock::models {

struct LaidZone {
  ZoneKind kind = ZoneKind::field;
  GramsPerSquareMetre usual{1.0};  // right after the squeegee, the middle of what usual hands leave
  Metres edge_width{0.005};        // of an edge: how far water lies from the free margin
  bool operator==(const LaidZone&) const = default;
};

struct LaidSpec {
  FilmStack stack;
  Solution solution;
  PanelThermal panel;
  std::vector<LaidZone> zones;
  double air_layer_coefficient = 2.3e-3;  // h_m, m/s, still bay
  Celsius panel_at_lay{21.0};
  bool operator==(const LaidSpec&) const = default;
};

class LaidPiece {
 public:
  // `at_lay` is the air at the moment of laying; the film starts in equilibrium with it.
  LaidPiece(const LaidSpec& spec, const Surroundings& at_lay);

  // Air between `from` and `to` is linear over `duration` (> 0).
  void advance(const Surroundings& from, const Surroundings& to, Seconds duration);
  // The same through many readings, `spacing` apart, the first of them now, in blocks of up to half an hour
  // (five minutes with alcohol) where the air is steady enough, see models/air_block.hpp.
  void advance(std::span<const Surroundings> points, Seconds spacing);

  void open_edges();  // an edge was lifted or trimmed open: it dries faster from now on
  void wrap_edges();  // the edge zones are turned round: stagnant air from now on
  // The film over these zones is held at `surface_c` from now on, whatever the panel does; NaN: no more.
  void hold(ZoneKind zones, double surface_c);
  // A lamp adds so much heat to the panel under these zones from now on, W/m2 taken up; 0: no more.
  void light(ZoneKind zones, double heat_w_m2);
  void mark();  // what is now stays a point of the trace: somebody looked

  [[nodiscard]] double seconds() const;  // since lay
  [[nodiscard]] const std::vector<LaidZone>& zones() const { return zones_; }
  [[nodiscard]] const FilmStack& stack() const { return spec_.stack; }
  // Of one zone. The last point of the trace is now; earlier ones stand a minute apart for half an hour, then
  // ten minutes, after a day half an hour, at the same times in all zones.
  [[nodiscard]] const CourseTrace& trace(std::size_t zone) const;
  // excess_delays() of its film.
  [[nodiscard]] const std::array<double, looks_back>& film_delays(std::size_t zone) const;
  [[nodiscard]] Margin margin(std::size_t zone) const;
  [[nodiscard]] Celsius panel()
      const;  // modelled or measured, where nothing is held or lit if there is such a zone
  [[nodiscard]] std::uint8_t validity() const;

  // Made alike, and alike in all that air and hands did since: they go on alike.
  [[nodiscard]] bool operator==(const LaidPiece& other) const;

 private:
  struct Run {
    FilmCourse course;
    std::array<double, looks_back> film_delays;
    CourseTrace trace;
    double held_c;    // NaN: as the panel
    double lit_w_m2;  // beside what the air's own heat is
    void advance(const Surroundings& from, const Surroundings& to, Seconds duration);
    void advance(std::span<const Surroundings> points, Seconds spacing);
    [[nodiscard]] bool as_the_others() const;
    [[nodiscard]] Surroundings over(Surroundings air) const;
    bool marked = false;  // the last point stays
    void note();          // now, into the trace
  };
  // Does it to the runs of the zones of this kind, after they have parted from zones of other kinds.
  template <class Change>
  void change(ZoneKind kinds, Change to);

  LaidSpec spec_;
  std::vector<LaidZone> zones_;
  std::vector<std::size_t> run_of_;  // each zone's
  std::vector<double> opened_at_;    // each zone's front then [m2]; +infinity: never
  std::vector<Run> runs_;
};

// The free margin of a zone whose edge nobody has opened.
[[nodiscard]] Margin margin_at_lay(const LaidZone& zone);

// ln of a film's resistance against its stack's, in the lanes of every course: evenly spaced, rising.
[[nodiscard]] const Lanes& lane_log_factors();

}  // namespace dryclock::models
