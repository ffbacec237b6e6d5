#include "cli/dry_report.hpp"

#include <fmt/format.h>

#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <cmath>

#include "cli/validity_words.hpp"

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

boost::json::value or_null(const std::optional<double>& value) {
  return value ? boost::json::value(*value) : boost::json::value(nullptr);
}

}  // namespace

std::string text_report(const DryCase& dry, const DryResult& result) {
  std::string out;
  const auto line = [&](std::string_view name, const std::string& value) {
    out += fmt::format("{:<16}{}\n", name, value);
  };
  if (!dry.title.empty()) {
    out += dry.title + "\n";
  }
  line("film", stack_line(dry.stack));
  line("water", fmt::format("{:g} g/m2, {}", dry.water,
                            dry.break_up > 0.0 ? fmt::format("in patches below {:g} g/m2", dry.break_up)
                                               : "whole to its end"));
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
  for (const auto& p : result.series) {
    out += fmt::format("{:>7.2f} {:>9.4f} {:>9.4f} {:>6.2f} {:>7.1f} {:>7.1f} {:>7.1f} {:>6.2f}\n", p.hours,
                       p.water, p.excess, p.bond, p.air_c, p.rh_pct, p.panel_c, p.pace);
  }
  return out;
}

std::string json_report(const DryCase& dry, const DryResult& result) {
  boost::json::object root;
  root["title"] = dry.title;
  root["solver"] = name_of(dry.solver);
  root["dry_h"] = or_null(result.dry_h);
  root["below_h"] = or_null(result.below_h);
  root["standard_hours"] = result.standard_hours;
  root["excess_at_dry_g_m2"] = result.dry_h ? boost::json::value(result.excess_at_dry) : nullptr;
  boost::json::array falls;
  for (std::size_t i = 0; i < excess_shares.size(); ++i) {
    falls.push_back({{"share", excess_shares[i]}, {"minutes", or_null(result.excess_min[i])}});
  }
  root["excess_falls"] = std::move(falls);
  boost::json::array bonds;
  for (std::size_t i = 0; i < bond_levels.size(); ++i) {
    bonds.push_back({{"bond", bond_levels[i]}, {"hours", or_null(result.bond_h[i])}});
  }
  root["bond_reached"] = std::move(bonds);
  boost::json::array cautions;
  for (const auto& word : validity_words(result.validity)) {
    cautions.push_back(boost::json::string(word));
  }
  root["validity"] = std::move(cautions);
  root["air_held"] = result.air_held;
  boost::json::array series;
  for (const auto& p : result.series) {
    series.push_back({{"hours", p.hours},
                      {"water_g_m2", p.water},
                      {"excess_g_m2", p.excess},
                      {"bond", p.bond},
                      {"air_c", p.air_c},
                      {"rh_pct", p.rh_pct},
                      {"panel_c", p.panel_c},
                      {"pace", p.pace}});
  }
  root["series"] = std::move(series);
  return boost::json::serialize(root) + "\n";
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
