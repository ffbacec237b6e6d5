#include <fmt/core.h>

#include <cmath>
#include <map>

#include "base/plain_words.hpp"
#include "cli/naming.hpp"
#include "cli/show.hpp"
#include "cli/table.hpp"

namespace dryclock::cli {
namespace {

constexpr std::size_t bar_cells = 25;

// The interval over 0 to 100 %: "  .--|-----.    ".
std::string bar(const RecheckGroup& group) {
  const auto cell = [](double share) {
    return static_cast<std::size_t>(std::lround(share * static_cast<double>(bar_cells - 1)));
  };
  std::string text(bar_cells, ' ');
  for (std::size_t i = cell(group.low); i <= cell(group.high); ++i) {
    text[i] = '-';
  }
  text[cell(static_cast<double>(group.lifted) / group.pieces)] = '|';
  return text;
}

std::string name_in(const RecheckGroup& group, const CatalogueView& shop) {
  if (group.by == "panel") {
    PieceSummary any;
    any.panel = group.of;
    return piece_label(shop, any);
  }
  static const std::map<std::string, std::string> heads{
      {"trim", "trimmed at "}, {"tension", "tension "}, {"release", "left "}, {"zone", "lifts at its "}};
  const auto head = heads.find(group.by);
  return head == heads.end() || group.of == "not trimmed" ? group.of : head->second + group.of;
}

}  // namespace

std::string show_rechecks(const RecheckReport& report, const CatalogueView& shop) {
  if (report.vehicles == 0) {
    return "No vehicle was looked at again yet: dryclock recheck.\n";
  }
  auto out =
      fmt::format("{} looked at again{}.\n",
                  report.vehicles == 1 ? std::string{"One vehicle was"}
                                       : fmt::format("{} vehicles were", report.vehicles),
                  report.pending > 0 ? fmt::format("; {} are not worked out yet", report.pending) : "");
  Table table({"pieces", "lifted", "share", "0 %                 100 %", ""});
  for (const auto& group : report.groups) {
    table.row({name_in(group, shop), fmt::format("{} of {}", group.lifted, group.pieces),
               fmt::format("{} ({:.0f} to {})", percent(static_cast<double>(group.lifted) / group.pieces),
                           100.0 * group.low, percent(group.high)),
               bar(group), group.few ? "too few to tell" : ""});
  }
  return out + table.text(2) +
         fmt::format(
             "In brackets and as the bar: the 95 % interval (Wilson's score). \"trimmed at\": how likely "
             "trim-ready "
             "it was\nthen. \"lifts at its\": of the pieces that have this zone; one that lifted without a "
             "word "
             "where is in none\nof these rows. Fewer than {} pieces are too few. Counts of one shop tell "
             "where "
             "to look, not why.\n",
             report.few_below);
}

}  // namespace dryclock::cli
