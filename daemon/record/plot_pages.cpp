#include <algorithm>
#include <cmath>
#include <limits>

#include "record/pages.hpp"
#include "record/plot.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

using wording::Words;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
// A line over all stays; broken where there is no air.
template <class Get>
Line air_line(const Record& record, std::string name, Dash dash, Get value) {
  Line line{std::move(name), dash, {}};
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

// A line in figures: lowest, mean, highest.
struct AirFigure {
  std::string name;
  const Line* line = nullptr;
  int decimals = 1;
};

void air_figures(Sheet& sheet, const Record& record, const std::vector<AirFigure>& figures) {
  const auto& words = *record.words;
  std::vector<std::vector<Cell>> rows;
  for (const auto& [name, line, decimals] : figures) {
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
      rows.push_back({{name},
                      {words.fixed(low, decimals)},
                      {words.fixed(sum / count, decimals)},
                      {words.fixed(high, decimals)},
                      {std::to_string(count)}});
    }
  }
  std::int64_t bridged = 0;
  for (const auto& [stay, points] : record.air) {
    bridged += std::ranges::count_if(points, &AirPoint::bridged);
  }
  sheet.table({{words.say("record-plots.while-there"), 2.4},
               {words.say("record-plots.lowest"), 1, true},
               {words.say("record-plots.mean"), 1, true},
               {words.say("record-plots.highest"), 1, true},
               {words.say("record-plots.minutes"), 1, true}},
              rows);
  if (bridged > 0) {
    sheet.paragraph(words.say("record-plots.bridged", {say::count("n", bridged)}), small);
  }
}

void air_plots(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  const auto scale = [&](double celsius) { return words.in_scale(celsius); };
  const Line air = air_line(record, words.say("record-plots.line-air"), Dash::solid,
                            [&](const AirPoint& p) { return scale(p.air_c); });
  const Line dew = air_line(record, words.say("record-plots.line-dew-point"), Dash::dashed,
                            [&](const AirPoint& p) { return scale(p.dew_point_c); });
  const Line panel = air_line(record, words.say("record-plots.line-panel"), Dash::dash_dot,
                              [&](const AirPoint& p) { return scale(p.panel_c); });
  const Line humidity = air_line(record, {}, Dash::solid, [](const AirPoint& p) { return p.rh_pct; });
  const Line pace = air_line(record, {}, Dash::solid, [](const AirPoint& p) { return p.pace; });

  sheet.heading(words.say("record-plots.air-of-bay"));
  sheet.paragraph(words.say("record-plots.air-note", reference_air()), small);
  const std::vector unit{say::text("unit", words.degree())};
  Plot plot{.title = words.say("record-plots.temperature", unit), .from = record.from, .to = record.to};
  plot.lines = {air, dew};
  if (any_finite(panel)) {
    plot.lines.push_back(panel);
  }
  plot.marks = marks(record, 0);
  plot.holes = holes(record, record.from, record.to);
  draw(sheet.canvas(), sheet.block(178.0), plot, words);
  plot.title = words.say("record-plots.humidity");
  plot.lines = {humidity};
  draw(sheet.canvas(), sheet.block(140.0), plot, words);
  plot.title = words.say("record-plots.pace");
  plot.lines = {pace};
  plot.lowest = 0.0;
  draw(sheet.canvas(), sheet.block(140.0), plot, words);
  sheet.space(6.0);
  constexpr int pace_decimals = 2;
  air_figures(sheet, record,
              {{words.say("record-plots.figure-air", unit), &air},
               {words.say("record-plots.figure-humidity"), &humidity},
               {words.say("record-plots.figure-dew-point", unit), &dew},
               {words.say("record-plots.figure-panel", unit), &panel},
               {words.say("record-plots.figure-pace"), &pace, pace_decimals}});
}

// A straight line over the whole of a plot.
Line level(const Plot& plot, std::string name, double at) {
  return {std::move(name), Dash::dotted, {{plot.from, at}, {plot.to, at}}};
}

// Likely, and from the 10th to the 90th percentile.
Plot water_plot(const Words& words, const PieceRecord& piece, std::size_t z, Plot plot) {
  const auto zone = wording::capital(words.word("zone", piece.history.front().zones[z].kind));
  plot.title = words.say("record-plots.zone-water", {say::text("zone", zone)});
  plot.scale = Scale::root;
  Line likely;
  for (const auto& point : piece.history) {
    likely.samples.push_back({point.at, point.zones[z].water.likely});
    plot.band.push_back({point.at, point.zones[z].water.low, point.zones[z].water.high});
  }
  plot.lines.push_back(std::move(likely));
  return plot;
}

// Of the area that is wet and of the final bond, both likely; and below which wet share liquid counts as
// gone.
Plot share_plot(const Record& record, const PieceRecord& piece, std::size_t z, Plot plot) {
  const auto& words = *record.words;
  Line wet{words.say("record-plots.line-wet"), Dash::solid, {}};
  Line bond{words.say("record-plots.line-bond"), Dash::dashed, {}};
  for (const auto& point : piece.history) {
    wet.samples.push_back({point.at, point.zones[z].wet_share.likely});
    bond.samples.push_back({point.at, point.zones[z].bond.likely});
  }
  plot.highest = 1.0;
  plot.lines = {std::move(wet), std::move(bond),
                level(plot, words.say("record-plots.line-gone"), record.thresholds.gone_wet)};
  return plot;
}

// Two small plots for each zone, one below the other, the zones side by side on one scale.
void zone_plots(Sheet& sheet, const Record& record, const PieceRecord& piece) {
  const auto& words = *record.words;
  const auto& history = piece.history;
  constexpr double caption = 14.0, height = 104.0, share_height = 84.0;
  const Rect where = sheet.block(caption + height + (history.empty() ? 0.0 : share_height));
  const auto& summary = piece.summary;
  const auto name =
      words.say("record-plots.piece",
                {say::text("piece", piece.panel_label), say::text("number", std::to_string(summary.id)),
                 say::text("at", when_short(words, summary.laid)),
                 say::text("hours", words.fixed(summary.standard_hours, 1))});
  sheet.canvas().text({where.x, where.y + 10.0}, name, {8.5, true, 0.0});
  if (history.empty()) {
    sheet.canvas().text({where.x, where.y + 26.0}, words.say("record-plots.no-history"), small);
    return;
  }
  Plot plot{.title = {},
            .from = summary.laid,
            .to = std::max(history.back().at, summary.laid + std::chrono::hours{1}),
            .lowest = 0.0,
            .highest = 1.0};
  for (const auto& point : history) {
    for (const auto& zone : point.zones) {
      plot.highest = std::max(*plot.highest, zone.water.high);
    }
  }
  plot.marks = marks(record, summary.id);
  plot.holes = holes(record, plot.from, plot.to);
  const std::size_t zones = history.front().zones.size();
  const double width = where.width / static_cast<double>(std::max<std::size_t>(zones, 2));
  for (std::size_t z = 0; z < zones; ++z) {
    const Rect in{where.x + static_cast<double>(z) * width, where.y + caption, width - 4.0, height};
    draw(sheet.canvas(), in, water_plot(words, piece, z, plot), words);
    draw(sheet.canvas(), {in.x, in.y + height, in.width, share_height}, share_plot(record, piece, z, plot),
         words);
  }
}

// The plots' ends in figures: what stands in water.csv right after the laying, and last.
void water_figures(Sheet& sheet, const Record& record) {
  const auto& words = *record.words;
  constexpr int decimals = 2;
  const auto spread = [&](const models::Quantiles& s) {
    return words.say("record-plots.spread", {say::text("likely", words.fixed(s.likely, decimals)),
                                             say::text("low", words.fixed(s.low, decimals)),
                                             say::text("high", words.fixed(s.high, decimals))});
  };
  std::vector<std::vector<Cell>> rows;
  for (const auto& piece : record.pieces) {
    if (piece.history.empty()) {
      continue;
    }
    const auto& first = piece.history.front();
    const auto& last = piece.history.back();
    for (std::size_t z = 0; z < std::min(first.zones.size(), last.zones.size()); ++z) {
      rows.push_back(
          {{words.say("record.piece-number-short", {say::text("piece", piece.panel_label),
                                                    say::text("number", std::to_string(piece.summary.id))})},
           {words.word("zone", first.zones[z].kind)},
           {spread(first.zones[z].water)},
           {when_short(words, last.at)},
           {spread(last.zones[z].water)},
           {words.fixed(100.0 * last.zones[z].wet_share.likely, 1)},
           {words.fixed(100.0 * last.zones[z].excess.likely, 1)},
           {spread(last.zones[z].bond)}});
    }
  }
  if (rows.empty()) {
    return;
  }
  sheet.space(6.0);
  sheet.table({{words.say("record.piece"), 1.4},
               {words.say("record-plots.zone"), 0.8},
               {words.say("record-plots.first-water"), 1.7},
               {words.say("record-plots.last-at"), 0.9},
               {words.say("record-plots.last-water"), 1.5},
               {words.say("record-plots.wet"), 0.8, true},
               {words.say("record-plots.in-film"), 0.85, true},
               {words.say("record-plots.bond"), 1.5}},
              rows);
  sheet.paragraph(words.say("record-plots.figures-note"), small);
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
  const auto& words = *record.words;
  sheet.heading(words.say("record-plots.water-under"));
  sheet.paragraph(words.say("record-plots.water-note", {say::share("gone", record.thresholds.gone_wet),
                                                        say::text("hour", standard_hour(words))}),
                  small);
  for (const auto& piece : record.pieces) {
    zone_plots(sheet, record, piece);
  }
  water_figures(sheet, record);
}

}  // namespace dryclock::record
