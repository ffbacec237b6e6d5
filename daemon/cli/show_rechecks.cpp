#include <cmath>

#include "cli/show.hpp"
#include "cli/table.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

using wording::Words;

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

// "client-rechecks.trim-not-trimmed"; a band of chances stands in "client-rechecks.trim".
std::string name_in(const RecheckGroup& group, const Words& words) {
  if (group.by == "panel") {
    return words.panel(group.of);
  }
  if (group.by == "zone") {
    return words.say("client-rechecks.zone", {say::word("zone", "words.zone-" + group.of)});
  }
  if (group.by == "trim" && group.of.ends_with('%')) {
    return words.say("client-rechecks.trim", {say::text("share", group.of)});
  }
  return words.say("client-rechecks." + (group.by == group.of ? group.by : group.by + "-" + group.of));
}

}  // namespace

std::string show_rechecks(const RecheckReport& report, const Words& words) {
  if (report.vehicles == 0) {
    return words.say("client-rechecks.none") + "\n";
  }
  const auto out =
      words.say(report.pending > 0 ? "client-rechecks.vehicles-pending" : "client-rechecks.vehicles",
                {say::count("n", report.vehicles), say::count("pending", report.pending)}) +
      "\n";
  Table table(heads(words, {"client-rechecks.head-pieces", "client-rechecks.head-lifted",
                            "client-rechecks.head-share", "0 %                 100 %", ""}));
  for (const auto& group : report.groups) {
    table.row({name_in(group, words),
               words.say("client-rechecks.lifted",
                         {say::count("lifted", group.lifted), say::count("pieces", group.pieces)}),
               words.say("client-rechecks.share",
                         {say::text("share", words.share(static_cast<double>(group.lifted) / group.pieces)),
                          say::text("low", words.fixed(100.0 * group.low, 0)),
                          say::text("high", words.share(group.high))}),
               bar(group), group.few ? words.say("client-rechecks.few") : ""});
  }
  return out + table.text(2) + words.say("client-rechecks.explained", {say::count("few", report.few_below)}) +
         "\n";
}

}  // namespace dryclock::cli
