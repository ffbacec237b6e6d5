#include "cli/dry_report.hpp"

#include <fmt/format.h>

#include <boost/json/serialize.hpp>
#include <boost/json/string.hpp>
#include <cmath>
#include <limits>

#include "cli/show.hpp"
#include "cli/table.hpp"
#include "cli/validity_words.hpp"
#include "models/film_modes.hpp"
#include "models/pace.hpp"

namespace dryclock::cli {
namespace {

using wording::Words;

constexpr int given_decimals = 6;

std::string hours_text(double hours, int decimals, const Words& words) {
  return words.say("units.hours", {say::text("n", words.fixed(hours, decimals))});
}
// As many decimals as it was given with.
std::string given_hours(double hours, const Words& words) {
  return words.say("units.hours", {say::text("n", words.number(hours, given_decimals))});
}
std::string given_water(double grams_m2, const Words& words) {
  return words.say("units.water", {say::text("n", words.number(grams_m2, given_decimals))});
}

std::string in_hours(const std::optional<double>& hours, double max_hours, const Words& words) {
  return hours ? hours_text(*hours, 2, words)
               : words.say("client-paper.not-within", {say::text("hours", given_hours(max_hours, words))});
}

// Steady resistance of the sheets at 21 C. [m2 s Pa/kg]
double resistance(const models::FilmStack& stack) {
  double sum = 0.0;
  for (const auto& layer : stack.layers) {
    sum += layer.thickness.value() / layer.permeability.value();
  }
  return sum;
}

std::string stack_line(const models::FilmStack& stack, const Words& words) {
  std::string layers;
  for (const auto& layer : stack.layers) {
    layers +=
        (layers.empty() ? "" : " + ") +
        words.say("client-paper.layer",
                  {say::text("name", layer.name),
                   say::text("thickness", words.number(layer.thickness.value() * 1e6, given_decimals))});
  }
  return words.say(
      "client-paper.stack",
      {say::text("layers", layers),
       say::text("resistance",
                 words.say("units.resistance", {say::text("n", words.number(resistance(stack) / 1e9, 2))})),
       say::celsius("temperature", models::reference_temperature.value())});
}

// Shortest text that reads back the same; what is not there is null.
std::string or_null(const std::optional<double>& value) {
  return value ? fmt::format("{}", *value) : "null";
}

template <class List, class Item>
std::string json_list(const List& list, Item item) {
  std::string out;
  for (std::size_t i = 0; i < list.size(); ++i) {
    out += (i == 0 ? "" : ",") + item(i);
  }
  return "[" + out + "]";
}

// The case: film, water, and how it is solved where that is worth a word.
Named case_lines(const DryCase& dry, const Words& words) {
  const auto water = say::text("water", given_water(dry.water, words));
  Named lines{
      {words.say("client-paper.film"), stack_line(dry.stack, words)},
      {words.say("client-paper.water"),
       dry.break_up > 0.0 ? words.say("client-paper.water-patches",
                                      {water, say::text("break_up", given_water(dry.break_up, words))})
                          : words.say("client-paper.water-whole", {water})}};
  if (!models::one_activation_energy(dry.stack)) {
    lines.emplace_back(
        words.say("client-paper.solver"),
        words.say(dry.solver == Solver::grid ? "client-paper.solver-grid" : "client-paper.solver-modes"));
  }
  return lines;
}

// "50 % after 12.1 min, 20 % after -": what share was reached when; `unit` of that, with one decimal.
template <std::size_t n>
std::string reached(std::string_view key, const std::array<double, n>& shares,
                    const std::array<std::optional<double>, n>& when, std::string_view name,
                    std::string_view unit, const Words& words) {
  std::string list;
  for (std::size_t i = 0; i < n; ++i) {
    const auto at = when[i] ? words.say(unit, {say::text("n", words.fixed(*when[i], 1))}) : "-";
    list += (list.empty() ? "" : ", ") +
            words.say(key, {say::text("share", words.share(shares[i])), say::text(name, at)});
  }
  return list;
}

Named result_lines(const DryCase& dry, const DryResult& result, const Words& words) {
  Named lines;
  const auto add = [&](std::string_view key, std::string what, const std::vector<Value>& values = {}) {
    lines.emplace_back(words.say(key, values), std::move(what));
  };
  add("client-paper.liquid-gone",
      words.say("client-paper.gone-after", {say::text("when", in_hours(result.dry_h, dry.max_hours, words)),
                                            say::text("hours", words.fixed(result.standard_hours, 2))}));
  add("client-paper.below", in_hours(result.below_h, dry.max_hours, words),
      {say::text("water", given_water(dry.dry_below, words))});
  if (result.dry_h) {
    add("client-paper.then-holds",
        words.say(result.falls() ? "client-paper.excess" : "client-paper.short",
                  {say::text("water", words.fixed(std::abs(result.excess_at_dry), 4))}));
    if (result.falls()) {
      add("client-paper.falls-to",
          reached("client-paper.fall", excess_shares, result.excess_min, "minutes", "units.minutes", words));
    }
  } else {
    add("client-paper.left",
        words.say("units.water", {say::text("n", words.fixed(result.series.back().water, 2))}));
  }
  add("client-paper.bond",
      reached("client-paper.bond-at", bond_levels, result.bond_h, "hours", "units.hours", words));
  for (auto& word : validity_words(result.validity, words)) {
    add("client-paper.caution", std::move(word));
  }
  if (result.air_held) {
    add("client-paper.caution",
        words.say("client-paper.air-held", {say::text("hours", given_hours(dry.air.back().hours, words))}));
  }
  return lines;
}

std::string series_table(const DryResult& result, const Words& words) {
  Table table(heads(words, {"client-paper.head-hours", "client-paper.head-water", "client-paper.head-excess",
                            "client-paper.head-bond", "client-paper.head-air", "client-paper.head-humidity",
                            "client-paper.head-panel", "client-paper.head-pace"}),
              Table::Align::right);
  table.row({"", "g/m²", "g/m²", "", "°C", "%", "°C", ""});
  // Beyond the film's own drying only the bond still grows, and that is said above.
  const double end = result.dry_h && result.excess_min.back()
                         ? *result.dry_h + *result.excess_min.back() / 60.0
                         : std::numeric_limits<double>::infinity();
  for (const auto& p : result.series) {
    if (p.hours > end && &p != &result.series.back()) {
      continue;
    }
    table.row({words.fixed(p.hours, 2), words.fixed(p.water, 4), words.fixed(p.excess, 4),
               words.fixed(p.bond, 2), words.fixed(p.air_c, 1), words.fixed(p.rh_pct, 1),
               words.fixed(p.panel_c, 1), words.fixed(p.pace, 2)});
  }
  return table.text(2);
}

}  // namespace

std::string text_report(const DryCase& dry, const DryResult& result, const Words& words) {
  constexpr std::size_t name_width = 17;
  return (dry.title.empty() ? "" : dry.title + "\n") + named_lines(case_lines(dry, words), 0, name_width) +
         "\n" + named_lines(result_lines(dry, result, words), 0, name_width) + "\n" +
         series_table(result, words);
}

std::string json_report(const DryCase& dry, const DryResult& result) {
  const auto cautions = validity_keys(result.validity);
  std::string out = fmt::format("{{\"title\":{},\"solver\":\"{}\"",
                                boost::json::serialize(boost::json::string(dry.title)), name_of(dry.solver));
  out += fmt::format(",\"dry_h\":{},\"below_h\":{},\"standard_hours\":{}", or_null(result.dry_h),
                     or_null(result.below_h), result.standard_hours);
  out += fmt::format(",\"excess_at_dry_g_m2\":{}", result.dry_h ? or_null(result.excess_at_dry) : "null");
  out += ",\"excess_falls\":" + json_list(excess_shares, [&](std::size_t i) {
           return fmt::format("{{\"share\":{},\"minutes\":{}}}", excess_shares[i],
                              or_null(result.excess_min[i]));
         });
  out += ",\"bond_reached\":" + json_list(bond_levels, [&](std::size_t i) {
           return fmt::format("{{\"bond\":{},\"hours\":{}}}", bond_levels[i], or_null(result.bond_h[i]));
         });
  out += ",\"validity\":" + json_list(cautions, [&](std::size_t i) { return "\"" + cautions[i] + "\""; });
  out += fmt::format(",\"air_held\":{},\"series\":", result.air_held);
  out += json_list(result.series, [&](std::size_t i) {
    const auto& p = result.series[i];
    return fmt::format(
        "{{\"hours\":{},\"water_g_m2\":{},\"excess_g_m2\":{},\"bond\":{},\"air_c\":{},\"rh_pct\":{},\"panel_"
        "c\":{},\"pace\":{}}}",
        p.hours, p.water, p.excess, p.bond, p.air_c, p.rh_pct, p.panel_c, p.pace);
  });
  return out + "}\n";
}

std::string csv_report(const DryResult& result) {
  std::string out = "hours,water_g_m2,excess_g_m2,bond,air_c,rh_pct,panel_c,pace\n";
  for (const auto& p : result.series) {
    out += fmt::format("{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g}\n", p.hours, p.water,
                       p.excess, p.bond, p.air_c, p.rh_pct, p.panel_c, p.pace);
  }
  return out;
}

}  // namespace dryclock::cli
