#include "cli/show.hpp"
#include "cli/table.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

using wording::Words;

// "not readings: 3 no JSON, 1 on no known topic"; nothing where nothing was counted. `group` as in
// words.json.
template <class E, std::size_t n>
std::string counts_line(std::string_view key, std::string_view group,
                        const std::array<std::uint64_t, n>& counts, const Words& words) {
  std::string list;
  for (std::size_t i = 0; i < n; ++i) {
    if (counts[i] > 0) {
      list += (list.empty() ? "" : ", ") + show_count(counts[i], words.word(group, static_cast<E>(i)), words);
    }
  }
  return list.empty() ? list : "  " + words.say(key, {say::text("counts", list)}) + "\n";
}

std::string bytes_text(auto bytes, const Words& words) {
  const auto value = static_cast<double>(bytes);
  return value < 1e9 ? words.say("units.storage", {say::text("n", words.fixed(value / 1e6, 1))})
                     : words.say("client-board.gigabytes", {say::text("n", words.fixed(value / 1e9, 1))});
}

std::string space_line(const Space& space, const Words& words) {
  constexpr double most_years = 100.0, whole_years = 10.0;
  std::vector<Value> values{say::text("database", bytes_text(space.database_bytes, words)),
                            say::text("seal", bytes_text(space.seal_bytes, words)),
                            say::text("free", bytes_text(space.free_bytes, words))};
  std::string_view key = "client-board.space-young";
  if (space.years_left) {
    key = *space.years_left > most_years ? "client-board.space-ample" : "client-board.space";
    values.push_back(say::text("rate", bytes_text(space.bytes_per_day, words)));
    values.push_back(
        say::text("years", words.fixed(*space.years_left, *space.years_left < whole_years ? 1 : 0)));
  }
  return "  " + words.say(key, values) + "\n";
}

// In the words of whoever reads it; one that a later daemon has, by its name.
std::string part_name(const std::string& name, const Words& words) {
  const auto key = "settings.part-" + name;
  auto word = words.say(key);
  return word == key ? name : word;
}

std::string part_lines(const std::vector<HealthPart>& parts, const Words& words) {
  constexpr std::size_t name_width = 11, state_width = 5;
  Named lines;
  for (const auto& part : parts) {
    const auto state = words.say(part.ok ? "client-board.part-well" : "client-board.part-not-well");
    lines.emplace_back(part_name(part.name, words),
                       padded(state, state_width - 2) + "  " + words.fact(part.what));
  }
  return named_lines(lines, 2, name_width);
}

}  // namespace

std::string show_count(std::uint64_t n, const std::string& what, const Words& words) {
  return words.say("client-board.counted", {say::count("n", n), say::text("what", what)});
}

Value verdict_value(models::SensorVerdict verdict) {
  return say::word("verdict", "client-sensors.verdict-" + std::string{name_of(verdict)});
}

std::string show_reading(std::optional<double> value, Quantity quantity, const Words& words) {
  return value ? words.value(say::number("value", traits(quantity).measure, *value)) : "-";
}

std::string show_status(const Health& health, const Board& board, const Words& words) {
  auto out = words.say(health.ok ? "client-board.well" : "client-board.not-well",
                       {say::text("version", health.version),
                        say::text("at", words.zone().date_clock(health.started))}) +
             "\n" + part_lines(health.parts, words);
  if (health.space) {
    out += space_line(*health.space, words);
  }
  const auto& c = board.counters;
  out += "  " +
         words.say("client-board.counters",
                   {say::count("messages", c.messages), say::count("readings", c.readings),
                    say::count("events", c.events)}) +
         "\n";
  out += counts_line<RejectReason>("client-board.not-readings", "reject", c.rejects, words);
  out += counts_line<Verdict>("client-board.readings", "verdict", c.verdict, words);
  Table table(
      heads(words, {"client-board.head-sensor", "client-board.head-bay", "client-board.head-quantity",
                    "client-board.head-value", "client-board.head-when", "client-board.head-verdict"}));
  for (const auto& bay : board.bays) {
    for (const auto& s : bay.sensors) {
      table.row({s.sensor, s.bay, words.word("quantity", s.quantity),
                 show_reading(s.value, s.quantity, words), when(s.at, board.now, words),
                 words.word("verdict", s.last_verdict)});
    }
  }
  return table.empty() ? out : out + table.text(2);
}

}  // namespace dryclock::cli
