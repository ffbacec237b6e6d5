// One plot over time: lines told apart by their dashes, bands, marks of events, and hatching where there were
// no readings.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "record/canvas.hpp"
#include "wording/words.hpp"

namespace dryclock::record {

struct Sample {
  Time at;
  double value = 0.0;  // NaN: the line is broken
};
struct Line {
  std::string name;
  Dash dash = Dash::solid;
  std::vector<Sample> samples;
};
struct BandSample {
  Time at;
  double low = 0.0, high = 0.0;
};
struct Mark {
  Time at;
  int number = 0;  // of the event, in the record's list
};
struct Hole {
  Time from, to;
};

enum class Scale : unsigned char { linear, root };  // root: stretches the small end

struct Plot {
  std::string title;  // with the unit
  Time from, to;
  std::optional<double> lowest = {}, highest = {};  // of the axis; else as the samples need
  Scale scale = Scale::linear;
  std::vector<Line> lines = {};
  std::vector<BandSample> band = {};
  std::vector<Mark> marks = {};  // in order of time
  std::vector<Hole> holes = {};
};

void draw(Canvas& canvas, Rect where, const Plot& plot, const wording::Words& words);

}  // namespace dryclock::record
