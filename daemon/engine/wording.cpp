#include "engine/wording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/plain_words.hpp"
#include "domain/milestones.hpp"
#include "domain/names.hpp"
#include "engine/piece_spec.hpp"

namespace dryclock::engine {
namespace {

using models::Milestone;

}  // namespace

std::string figure(double value) {
  const double size = std::abs(value);
  return size >= 10.0  ? fmt::format("{:.0f}", value)
         : size >= 1.0 ? fmt::format("{:.1f}", value)
                       : fmt::format("{:.2f}", value);
}

std::string piece_words(const Catalogue& catalogue, const std::string& panel, int part, int parts) {
  const auto* entry = find_panel(catalogue, panel);
  const auto& words = entry == nullptr ? panel : catalogue.us_words ? entry->label_us : entry->label_uk;
  return parts > 1 ? fmt::format("{} {}/{}", words, part, parts) : words;
}

std::string still_wet(const std::optional<models::Piece>& piece, const models::Thresholds& thresholds) {
  if (!piece) {
    return "no readings since it was laid";
  }
  const auto view = piece->view();
  std::string text;
  for (const auto& zone : view.zones) {
    // Members that are still wet, not the middle one: the doubt is what must be told.
    if (zone.water.high > thresholds.dry_below.value()) {
      text += fmt::format("{}{} {} g/m2 (up to {})", text.empty() ? "" : ", ", name_of(zone.kind),
                          figure(zone.water.likely), figure(zone.water.high));
    }
  }
  if (!text.empty() || view.zones.empty()) {
    return text;
  }
  const auto weakest =
      std::min_element(view.zones.begin(), view.zones.end(),
                       [](const auto& a, const auto& b) { return a.bond.likely < b.bond.likely; });
  return fmt::format("no liquid, but {} bond {}", name_of(weakest->kind), figure(weakest->bond.likely));
}

std::string held_by(const models::PieceView& view, Milestone which, const models::Thresholds& thresholds) {
  if (view.zones.empty()) {
    return "";
  }
  const auto& zone = view.zones[view.limiting_zone[static_cast<std::size_t>(which)]];
  const auto name = name_of(zone.kind);
  const auto& asks = traits(which);
  if (zone.water.likely > thresholds.dry_below.value()) {
    return fmt::format("{}: {} g/m2 left, {} standard hours to go", name, figure(zone.water.likely),
                       figure(zone.hours_to_go.likely));
  }
  if (asks.excess != nullptr && zone.excess.likely > thresholds.*asks.excess) {
    return fmt::format("{}: no liquid left, but the film still gives off water ({} % of what it held)", name,
                       figure(100.0 * zone.excess.likely));
  }
  if (zone.bond.likely < thresholds.*asks.bond) {
    return fmt::format("{}: bond {} of {}", name, figure(zone.bond.likely), figure(thresholds.*asks.bond));
  }
  if (zone.water.high > thresholds.dry_below.value()) {
    return fmt::format("{}: likely dry, but not surely: up to {} g/m2 may be left", name,
                       figure(zone.water.high));
  }
  return fmt::format("{}: likely ready, but not surely", name);
}

std::string clock_words(const Redated& told) {
  using std::chrono::minutes, std::chrono::round, std::chrono::seconds;
  const Millis moved = std::chrono::abs(told.by);
  const auto by = short_span(moved < minutes{2} ? Millis{round<seconds>(moved)} : round<minutes>(moved));
  const auto rows = told.first == 0 ? std::string{}
                    : told.first == told.last
                        ? fmt::format("; row {} is dated anew", told.first)
                        : fmt::format("; rows {} to {} are dated anew", told.first, told.last);
  switch (told.why) {
    case ClockFault::stepped:
      return fmt::format("The clock was set {} by {}{}.", told.by > Millis{0} ? "forward" : "back", by, rows);
    case ClockFault::ahead:
      return fmt::format("The clock was ahead by at least {} before the last start of the machine{}.", by,
                         rows);
    case ClockFault::told:
      return fmt::format("The time is the one that the sensors tell: no time server vouches for it{}.", rows);
    case ClockFault::behind:
      break;
  }
  return "The time is not known: the machine's clock is behind. What comes now is taken to follow what came "
         "last, and is dated when the time is known.";
}

std::string changed_words(const Shop::Changed& changed) {
  std::vector<std::string> what;
  const auto name = [&](std::string_view kind, const std::set<std::string>& keys) {
    for (const auto& key : keys) {
      what.push_back(fmt::format("{} '{}'", kind, key));
    }
  };
  name("film", changed.films);
  name("solution", changed.solutions);
  name("panel", changed.panels);
  if (changed.water) {
    what.emplace_back("the water that the squeegee leaves");
  }
  if (changed.slowest_panel) {
    what.emplace_back("the slowest panel");
  }
  if (changed.readiness) {
    what.emplace_back("what counts as ready");
  }
  return fmt::format("Changed: {}. {} {} estimated anew, on {}.", fmt::join(what, ", "), changed.pieces,
                     changed.pieces == 1 ? "piece is" : "pieces are", fmt::join(changed.vehicles, ", "));
}

}  // namespace dryclock::engine
