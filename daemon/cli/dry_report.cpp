#include "cli/dry_report.hpp"

#include <fmt/format.h>

#include <boost/json/serialize.hpp>
#include <boost/json/string.hpp>
#include <limits>

#include "cli/validity_words.hpp"
#include "models/film_modes.hpp"

namespace dryclock::cli {
namespace {

std::string in_hours(const std::optional<double>& hours, double max_hours) {
  return hours ? fmt::format("{:.2f} h", *hours) : fmt::format("not within {:g} h", max_hours);
}

// Steady resistance of the sheets at 21 C. [m2 s Pa/kg]
double resistance(const models::FilmStack& stack) {
  double sum = 0.0;
  for (const auto& layer : stack.layers) {
    sum += layer.thickness.value() / layer.permeability.value();
  }
  return sum;
}

std::string stack_line(const models::FilmStack& stack) {
  std::string line;
  for (const auto& layer : stack.layers) {
    line += fmt::format("{}{} {:g} um", line.empty() ? "" : " + ", layer.name, layer.thickness.value() * 1e6);
  }
  return line + fmt::format(", {:.3g} m2 s Pa/kg at 21 C", resistance(stack));
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

}  // namespace

std::string text_report(const DryCase& dry, const DryResult& result) {
  std::string out;
  const auto line = [&](std::string_view name, const std::string& value) {
    out += fmt::format("{:<17}{}\n", name, value);
  };
  if (!dry.title.empty()) {
    out += dry.title + "\n";
  }
  line("film", stack_line(dry.stack));
  line("water", fmt::format("{:g} g/m2, {}", dry.water,
                            dry.break_up > 0.0 ? fmt::format("in patches below {:g} g/m2", dry.break_up)
                                               : "whole to its end"));
  if (!models::one_activation_energy(dry.stack)) {
    line("solver", dry.solver == Solver::grid
                       ? "fine grid, since the layers' activation energies differ"
                       : "modes; the layers' activation energies differ, it may be 1 % off");
  }
  out += "\n";
  line("liquid gone", in_hours(result.dry_h, dry.max_hours) +
                          fmt::format("  ({:.2f} standard hours)", result.standard_hours));
  line(fmt::format("below {:g} g/m2", dry.dry_below), in_hours(result.below_h, dry.max_hours));
  if (result.dry_h) {
    line("film then holds", fmt::format("{:.4f} g/m2 more than the air asks for", result.excess_at_dry));
    std::string falls;
    for (std::size_t i = 0; i < excess_shares.size(); ++i) {
      falls += fmt::format("{}{:g} % after {}", falls.empty() ? "" : ", ", excess_shares[i] * 100.0,
                           result.excess_min[i] ? fmt::format("{:.1f} min", *result.excess_min[i]) : "-");
    }
    line("that falls to", falls);
  } else {
    line("left at the end", fmt::format("{:.2f} g/m2", result.series.back().water));
  }
  std::string bonds;
  for (std::size_t i = 0; i < bond_levels.size(); ++i) {
    bonds += fmt::format("{}{:g} % at {}", bonds.empty() ? "" : ", ", bond_levels[i] * 100.0,
                         result.bond_h[i] ? fmt::format("{:.1f} h", *result.bond_h[i]) : "-");
  }
  line("bond", bonds);
  for (const auto& word : validity_words(result.validity)) {
    line("caution", word);
  }
  if (result.air_held) {
    line("caution",
         fmt::format("the air ends after {:g} h; its last value was held from there", dry.air.back().hours));
  }

  out += fmt::format("\n{:>7} {:>9} {:>9} {:>6} {:>7} {:>7} {:>7} {:>6}\n", "h", "water", "excess", "bond",
                     "air", "RH", "panel", "pace");
  out += fmt::format("{:>7} {:>9} {:>9} {:>6} {:>7} {:>7} {:>7} {:>6}\n", "", "g/m2", "g/m2", "", "C", "%",
                     "C", "");
  // Beyond the film's own drying only the bond still grows, and that is said above.
  const double end = result.dry_h && result.excess_min.back()
                         ? *result.dry_h + *result.excess_min.back() / 60.0
                         : std::numeric_limits<double>::infinity();
  for (const auto& p : result.series) {
    if (p.hours > end && &p != &result.series.back()) {
      continue;
    }
    out += fmt::format("{:>7.2f} {:>9.4f} {:>9.4f} {:>6.2f} {:>7.1f} {:>7.1f} {:>7.1f} {:>6.2f}\n", p.hours,
                       p.water, p.excess, p.bond, p.air_c, p.rh_pct, p.panel_c, p.pace);
  }
  return out;
}

std::string json_report(const DryCase& dry, const DryResult& result) {
  const auto cautions = validity_words(result.validity);
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
