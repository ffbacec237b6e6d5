// The picture of one night in models/README.md, drawn from what its zones hold. After a wanted change of the
// models run this with DRYCLOCK_DRAW=1, look at models/night.svg, and commit it.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "models/piece_reach.hpp"
#include "models/shop_belief.hpp"
#include "support/grid.hpp"

using namespace dryclock::models;

namespace {

constexpr double plotted_hours = 48.0, step_s = 600.0;
constexpr double left = 60, right = 780, water_top = 40, water_bottom = 210, share_top = 250,
                 share_bottom = 420;
constexpr double most_shown = 9.0;  // g/m2, top of the upper axis

// A heated shop in the evening that cools over night: 22 C and 45 %RH at six, 17 C and 60 %RH at six.
Surroundings shop(double seconds) {
  const double night = 0.5 - 0.5 * std::cos(2.0 * 3.14159265358979 * seconds / 86'400.0);
  Surroundings air;
  air.air = Celsius{22.0 - 5.0 * night};
  air.humidity = Humidity{0.45 + 0.15 * night};
  return air;
}

LaidSpec plotted_bonnet() {
  LaidSpec spec;
  spec.stack.layers = {
      {.name = "adhesive", .thickness = Metres{40e-6}, .permeability = Permeability{3e-14}, .sorption = 4.5},
      {.name = "film", .thickness = Metres{150e-6}, .permeability = Permeability{5e-14}, .sorption = 17.0},
      {.name = "topcoat", .thickness = Metres{10e-6}, .permeability = Permeability{1e-14}, .sorption = 15.0}};
  spec.zones = {{.kind = ZoneKind::field, .usual = GramsPerSquareMetre{1.0}},
                {.kind = ZoneKind::edge, .usual = GramsPerSquareMetre{3.5}}};
  spec.panel_at_lay = Celsius{22.0};
  return spec;
}

std::string number(double value) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%.1f", value);
  return text.data();
}

double x_of(double hour) {
  return left + (right - left) * hour / plotted_hours;
}
double water_y(double grams) {
  return water_bottom - (water_bottom - water_top) * std::min(grams, most_shown) / most_shown;
}
double share_y(double share) {
  return share_bottom - (share_bottom - share_top) * share;
}

struct Point {
  double hour;
  ZoneHolds edge;
};

template <class Height>
std::string curve(const std::vector<Point>& points, const char* colour, Height height) {
  std::string out =
      "<polyline fill=\"none\" stroke-width=\"1.5\" stroke=\"" + std::string{colour} + "\" points=\"";
  for (const Point& p : points) {
    out += number(x_of(p.hour)) + "," + number(height(p.edge)) + " ";
  }
  return out + "\"/>\n";
}

std::string band(const std::vector<Point>& points) {
  std::string out = "<polygon fill=\"#1f77b4\" fill-opacity=\"0.15\" points=\"";
  for (const Point& p : points) {
    out += number(x_of(p.hour)) + "," + number(water_y(p.edge.water.high)) + " ";
  }
  for (std::size_t i = points.size(); i-- > 0;) {
    out += number(x_of(points[i].hour)) + "," + number(water_y(points[i].edge.water.low)) + " ";
  }
  return out + "\"/>\n";
}

// With a white rim, so that a line behind it does not matter.
std::string text(double x, double y, const std::string& words, const char* anchor = "start",
                 const char* colour = "#222") {
  return "<text x=\"" + number(x) + "\" y=\"" + number(y) + "\" text-anchor=\"" + anchor + "\" fill=\"" +
         colour + "\" stroke=\"#fff\" stroke-width=\"4\" paint-order=\"stroke\">" + words + "</text>\n";
}

std::string line(double x1, double y1, double x2, double y2, const char* style) {
  return "<line x1=\"" + number(x1) + "\" y1=\"" + number(y1) + "\" x2=\"" + number(x2) + "\" y2=\"" +
         number(y2) + "\" " + style + "/>\n";
}

std::string axes() {
  const char* grey = "stroke=\"#ddd\"";
  std::string out;
  for (int grams = 0; grams <= static_cast<int>(most_shown); grams += 3) {
    out += line(left, water_y(grams), right, water_y(grams), grey);
    out += text(left - 6, water_y(grams) + 4, std::to_string(grams), "end");
  }
  for (const double share : {0.0, 0.5, 1.0}) {
    out += line(left, share_y(share), right, share_y(share), grey);
    out += text(left - 6, share_y(share) + 4, number(share), "end");
  }
  for (int hour = 0; hour <= 48; hour += 6) {
    out += line(x_of(hour), share_bottom, x_of(hour), share_bottom + 4, "stroke=\"#222\"");
    out += text(x_of(hour), share_bottom + 18, std::to_string(hour), "middle");
  }
  out += text(left, water_top - 14, "Water under the film at an edge, g/m\u00b2");
  out += text(left, share_top - 12, "In the film and between film and panel, 0 to 1");
  out += text(left, share_bottom + 36, "hours after laying");
  return out + text(right, share_bottom + 36,
                    "air: 22 \u00b0C, 45 %RH; each night down to 17 \u00b0C, 60 %RH", "end");
}

// What has come with the same step stands in one label; each label has a line of its own.
std::string milestone_label(double hour, const std::string& names, double row) {
  return line(x_of(hour), water_top, x_of(hour), share_bottom, "stroke=\"#555\" stroke-dasharray=\"4 3\"") +
         text(x_of(hour) + 5, water_top + 14 + 18 * row, names);
}

std::string draw() {
  ShopBelief belief({});
  belief.set_spread("film", 0.12);  // after a coupon test
  const ShopLevels levels = belief.levels("film");
  const std::vector<ShopNode> nodes = belief.nodes("film");
  LaidPiece piece{plotted_bonnet(), shop(0.0)};
  const auto edge = [&] { return zone_holds(piece, 1, piece.trace(1).size() - 1, nodes, levels); };
  std::vector<Point> points{{0.0, edge()}};
  std::string milestones;
  double rows = 0.0;
  struct Named {
    Milestone which;
    const char* name;
    bool reached;
  };
  std::array<Named, 5> all{{{Milestone::wrap_ready, "wrap-ready", false},
                            {Milestone::trim_ready, "trim-ready", false},
                            {Milestone::clear, "clear", false},
                            {Milestone::may_leave, "may leave", false},
                            {Milestone::refit_ready, "refit-ready", false}}};
  for (const double t : dryclock::test::grid(0.0, plotted_hours * 3600.0 - step_s, step_s)) {
    piece.advance(shop(t), shop(t + step_s), Seconds{step_s});
    const double hour = (t + step_s) / 3600.0;
    points.push_back({hour, edge()});
    PieceReach reach(piece, Thresholds{}, levels);
    std::string now;
    for (Named& one : all) {
      if (!one.reached && reach.chance(one.which, piece.trace(1).size() - 1, nodes) >= 0.90) {
        one.reached = true;
        now += (now.empty() ? "" : ", ") + std::string{one.name};
      }
    }
    if (!now.empty()) milestones += milestone_label(hour, now, rows++);
  }
  const auto at = [&](double hour) { return points[static_cast<std::size_t>(hour * 3600.0 / step_s)].edge; };
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 800 470\" font-family=\"sans-serif\" "
         "font-size=\"12\">\n"
         "<rect width=\"800\" height=\"470\" fill=\"#fff\"/>\n" +
         axes() + band(points) +
         curve(points, "#1f77b4", [](const ZoneHolds& z) { return water_y(z.water.likely); }) +
         curve(points, "#2a7d2a", [](const ZoneHolds& z) { return share_y(z.excess.likely); }) +
         curve(points, "#b85c00", [](const ZoneHolds& z) { return share_y(z.bond.likely); }) +
         text(x_of(3.0), water_y(at(3.0).water.likely) - 8, "likely", "start", "#1f77b4") +
         text(x_of(9.0), water_y(3.0) - 6, "10 to 90 % of shops", "start", "#1f77b4") +
         text(x_of(5.0), share_y(at(5.0).excess.likely) - 8, "moisture from below, still in the film",
              "start", "#2a7d2a") +
         text(x_of(25.0), share_y(at(25.0).bond.likely) - 8, "bond", "end", "#b85c00") + milestones +
         "</svg>\n";
}

}  // namespace

TEST_SUITE_BEGIN("regression");

TEST_CASE("models/night.svg is what the models draw") {
  const std::string path = std::string{DRYCLOCK_SOURCE_DIR} + "/models/night.svg";
  const std::string drawn = draw();
  if (std::getenv("DRYCLOCK_DRAW") != nullptr) {
    std::ofstream{path, std::ios::binary} << drawn;
  }
  std::ifstream file{path, std::ios::binary};
  std::ostringstream committed;
  committed << file.rdbuf();
  CHECK((drawn == committed.str()));
}

TEST_SUITE_END();
