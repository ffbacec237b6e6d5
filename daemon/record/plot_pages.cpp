#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "domain/names.hpp"
#include "record/pages.hpp"
#include "record/plot.hpp"
#include "record/text.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr Font small{7.5, false, 0.0};

// A line over all stays; broken where there is no air.
template <class Value>
Line air_line(const Record& record, const char* name, Dash dash, Value value) {
  Line line{name, dash, {}};
  for (const auto& [stay, points] : record.air) {
    for (const auto& point : points) {
      line.samples.push_back({point.at, value(point)});
    }
    line.samples.push_back({stay.to, nan});
  }
  return line;
}

bool any_finite(const Line& line) {
  return std::ranges::any_of(line.samples, [](const Sample& sample) { return std::isfinite(sample.value); });
}

std::vector<Hole> holes(const Record& record, Time from, Time to) {
  std::vector<Hole> out;
  for (const auto& gap : record.gaps) {
    if (gap.from < to && gap.to > from) {
      out.push_back({gap.from, gap.to});
    }
  }
  // Air that no gap row speaks of: before the first reading and after the last, or outside.
  for (const auto& [stay, points] : record.air) {
    if (points.empty()) {
      out.push_back({stay.from, stay.to});
      continue;
    }
    const auto add = [&](Time a, Time b) {
      if (b - a > std::chrono::minutes{2}) {
        out.push_back({a, b});
      }
    };
    add(stay.from, points.front().at);
    add(points.back().at, stay.to);
  }
  return out;
}

std::vector<Mark> marks(const Record& record, PieceId piece) {
  std::vector<Mark> out;
  for (std::size_t i = 0; i < record.events.size(); ++i) {
    const Event& event = record.events[i].event;
    const bool concerns = std::visit(
        [&](const auto& detail) {
          if constexpr (requires { detail.piece; }) {
            return detail.piece == piece;
          } else {
            return event.seq == piece;
          }
        },
        event.detail);
    const bool correction = std::holds_alternative<Superseded>(event.detail);
    if (!record.events[i].superseded && !correction && event.at >= record.from && event.at <= record.to &&
        (piece == 0 || concerns)) {
      out.push_back({event.at, static_cast<int>(i) + 1});
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const Mark& a, const Mark& b) { return a.at < b.at; });
  return out;
}

void air_figures(Sheet& sheet, const Record& record,
                 const std::vector<std::pair<const char*, const Line*>>& lines) {
  std::vector<std::vector<Cell>> rows;
  for (const auto& [name, line] : lines) {
    double low = HUGE_VAL, high = -HUGE_VAL, sum = 0.0;
    int count = 0;
    for (const auto& sample : line->samples) {
      if (std::isfinite(sample.value)) {
        low = std::min(low, sample.value);
        high = std::max(high, sample.value);
        sum += sample.value;
        ++count;
      }
    }
    if (count > 0) {
      const int decimals = line->name == "pace" ? 2 : 1;
      rows.push_back({{name},
                      {fixed(low, decimals)},
                      {fixed(sum / count, decimals)},
                      {fixed(high, decimals)},
                      {std::to_string(count)}});
    }
  }
  std::int64_t bridged = 0;
  for (const auto& [stay, points] : record.air) {
    bridged += std::ranges::count_if(points, &AirPoint::bridged);
  }
  sheet.table({{"While the vehicle stood there", 2.4},
               {"lowest", 1, true},
               {"mean", 1, true},
               {"highest", 1, true},
               {"minutes", 1, true}},
              rows);
  if (bridged > 0) {
    sheet.paragraph(
        fmt::format("{} of these minutes had no readings: the slower end of the gap was assumed.", bridged),
        small);
  }
}

void air_plots(Sheet& sheet, const Record& record) {
  const auto scale = [&](double celsius) { return in_scale(record, celsius); };
  const Line air = air_line(record, "air", Dash::solid, [&](const AirPoint& p) { return scale(p.air_c); });
  const Line dew =
      air_line(record, "dew point", Dash::dashed, [&](const AirPoint& p) { return scale(p.dew_point_c); });
  const Line panel = air_line(record, "panel, measured", Dash::dash_dot,
                              [&](const AirPoint& p) { return scale(p.panel_c); });
  const Line humidity = air_line(record, "humidity", Dash::solid, [](const AirPoint& p) { return p.rh_pct; });
  const Line pace = air_line(record, "pace", Dash::solid, [](const AirPoint& p) { return p.pace; });

  sheet.heading("Air of the bay");
  sheet.paragraph(
      "Figures at the marks are the numbers in the list of events. Hatched: no readings. Pace: how fast this "
      "air dries film against 21 \xC2\xB0"
      "C and 50 %RH (1.00).",
      small);
  Plot plot{.title = fmt::format("Temperature [{}]", degree(record)), .from = record.from, .to = record.to};
  plot.lines = {air, dew};
  if (any_finite(panel)) {
    plot.lines.push_back(panel);
  }
  plot.marks = marks(record, 0);
  plot.holes = holes(record, record.from, record.to);
  draw(sheet.canvas(), sheet.block(178.0), plot, record.zone);
  plot.title = "Relative humidity [%RH]";
  plot.lines = {humidity};
  draw(sheet.canvas(), sheet.block(140.0), plot, record.zone);
  plot.title = "Pace";
  plot.lines = {pace};
  plot.lowest = 0.0;
  draw(sheet.canvas(), sheet.block(140.0), plot, record.zone);
  sheet.space(6.0);
  const auto temperature = fmt::format("air temperature [{}]", degree(record));
  const auto dew_name = fmt::format("dew point [{}]", degree(record));
  const auto panel_name = fmt::format("panel temperature, measured [{}]", degree(record));
  air_figures(sheet, record,
              {{temperature.c_str(), &air},
               {"relative humidity [%RH]", &humidity},
               {dew_name.c_str(), &dew},
               {panel_name.c_str(), &panel},
               {"pace", &pace}});
}

// One small plot for each zone, side by side on one scale.
void water_plots(Sheet& sheet, const Record& record, const PieceRecord& piece) {
  const auto& history = piece.history;
  constexpr double caption = 14.0, height = 104.0;
  const Rect where = sheet.block(caption + height);
  const auto& summary = piece.summary;
  const std::string name =
      fmt::format("{} (piece {}): laid {}, {} standard hours delivered", piece.panel_label, summary.id,
                  when_short(record, summary.laid), fixed(summary.standard_hours, 1));
  sheet.canvas().text({where.x, where.y + 10.0}, name, {8.5, true, 0.0});
  if (history.empty()) {
    sheet.canvas().text({where.x, where.y + 26.0}, "No readings since it was laid: nothing can be estimated.",
                        small);
    return;
  }
  double highest = 1.0;
  for (const auto& point : history) {
    for (const auto& zone : point.zones) {
      highest = std::max(highest, zone.water.high);
    }
  }
  const std::size_t zones = history.front().zones.size();
  const double width = where.width / static_cast<double>(std::max<std::size_t>(zones, 2));
  for (std::size_t z = 0; z < zones; ++z) {
    Plot plot{.title = fmt::format("{}: water [g/m\xC2\xB2]", name_of(history.front().zones[z].kind)),
              .from = summary.laid,
              .to = std::max(history.back().at, summary.laid + std::chrono::hours{1}),
              .lowest = 0.0,
              .highest = highest,
              .scale = Scale::root};
    Line likely{"likely", Dash::solid, {}};
    for (const auto& point : history) {
      likely.samples.push_back({point.at, point.zones[z].water.likely});
      plot.band.push_back({point.at, point.zones[z].water.low, point.zones[z].water.high});
    }
    plot.lines.push_back(std::move(likely));
    plot.marks = marks(record, summary.id);
    plot.holes = holes(record, plot.from, plot.to);
    const auto column = static_cast<double>(z);
    draw(sheet.canvas(), {where.x + column * width, where.y + caption, width - 4.0, height}, plot,
         record.zone);
  }
}

// The plots' ends in figures: what stands in water.csv right after the laying, and last.
void water_figures(Sheet& sheet, const Record& record) {
  const auto spread = [](const models::Quantiles& s, int decimals) {
    return fmt::format("{} ({} to {})", fixed(s.likely, decimals), fixed(s.low, decimals),
                       fixed(s.high, decimals));
  };
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    if (piece.history.empty()) {
      continue;
    }
    const auto& first = piece.history.front();
    const auto& last = piece.history.back();
    for (std::size_t z = 0; z < std::min(first.zones.size(), last.zones.size()); ++z) {
      rows.push_back({{fmt::format("{} ({})", piece.panel_label, piece.summary.id)},
                      {std::string{name_of(first.zones[z].kind)}},
                      {spread(first.zones[z].water, 2)},
                      {when_short(record, last.at)},
                      {spread(last.zones[z].water, 2)},
                      {fixed(100.0 * last.zones[z].excess.likely, 1)},
                      {spread(last.zones[z].bond, 2)}});
    }
  }
  if (rows.empty()) {
    return;
  }
  sheet.space(6.0);
  sheet.table({{"Piece", 1.5},
               {"Zone", 0.6},
               {"Laid with [g/m\xC2\xB2]", 1.75},
               {"Last at", 0.9},
               {"Then still [g/m\xC2\xB2]", 1.75},
               {"In film [%]", 0.85, true},
               {"Bond (1: final)", 1.3}},
              rows);
  sheet.paragraph(
      "Likely, and in brackets the 10th to the 90th percentile. In film: water that the film still gives "
      "off, in % of what it holds over liquid. water.csv has every ten minutes.",
      small);
}

}  // namespace

void plot_pages(Sheet& sheet, const Record& record) {
  constexpr double of_the_air = 620.0;  // heading, three plots and their table: on one page
  sheet.keep(of_the_air);
  air_plots(sheet, record);
  if (record.pieces.empty()) {
    return;
  }
  sheet.keep(180.0);
  sheet.heading("Water under each piece");
  sheet.paragraph(
      std::string{
          "Line: likely; grey: from the 10th to the 90th percentile of what is not known about film, "
          "squeegee and "
          "panel. The scale is stretched towards zero. Dry: below 0.05 g/m\xC2\xB2 on average, and the bond "
          "grown. "} +
          std::string{standard_hour},
      small);
  for (const auto& piece : record.pieces) {
    water_plots(sheet, record, piece);
  }
  water_figures(sheet, record);
}

}  // namespace dryclock::record
