#include "cli/air_csv.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>

#include "base/number_text.hpp"
#include "base/time.hpp"
#include "config/nearest.hpp"

namespace dryclock::cli {
namespace {

using config::Problems;

enum Column : std::size_t { time_column, air_column, humidity_column, panel_column, columns };
constexpr std::array<std::string_view, columns> names{"time", "air_c", "rh_pct", "panel_c"};

struct Cell {
  std::string_view text;
  int column = 1;  // in the line
};

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  return first == std::string_view::npos ? ""
                                         : text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::vector<Cell> cells_of(std::string_view line) {
  std::vector<Cell> cells;
  std::size_t from = 0;
  for (;;) {
    const auto comma = std::min(line.find(',', from), line.size());
    cells.push_back({trimmed(line.substr(from, comma - from)), static_cast<int>(from) + 1});
    if (comma == line.size()) {
      return cells;
    }
    from = comma + 1;
  }
}

class Reader {
 public:
  Reader(std::string name, Problems& problems) : name_(std::move(name)), problems_(problems) {}

  // False where the rows below cannot be read.
  bool header(const std::vector<Cell>& cells, int line) {
    bool sound = true;
    const std::vector<std::string_view> known(names.begin(), names.end());
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const auto at = std::find(names.begin(), names.end(), cells[i].text);
      if (at == names.end()) {
        complain(line, cells[i],
                 fmt::format("unknown column \"{}\"{}", cells[i].text,
                             config::did_you_mean(cells[i].text, known)));
        sound = false;
      } else if (auto& where = where_[static_cast<std::size_t>(at - names.begin())]; where) {
        complain(line, cells[i], fmt::format("column {} stands twice", cells[i].text));
        sound = false;
      } else {
        where = i;
      }
    }
    for (const auto column : {time_column, air_column, humidity_column}) {
      if (!where_[column]) {
        problems_.add({name_, line, 1, ""}, fmt::format("column {} is missing", names[column]));
        sound = false;
      }
    }
    width_ = cells.size();
    return sound;
  }

  void row(const std::vector<Cell>& cells, int line) {
    if (cells.size() != width_) {
      problems_.add({name_, line, 1, ""},
                    fmt::format("{} values stand under {} columns", cells.size(), width_));
      return;
    }
    const auto hours = time(cells[*where_[time_column]], line);
    const auto air = number(cells[*where_[air_column]], line, air_column, coldest_c, hottest_c);
    const auto humidity = number(cells[*where_[humidity_column]], line, humidity_column, 0.0, 100.0);
    AirAt at;
    if (where_[panel_column] && !cells[*where_[panel_column]].text.empty()) {
      at.panel_c =
          number(cells[*where_[panel_column]], line, panel_column, coldest_c, hottest_c).value_or(at.panel_c);
    }
    if (!hours || !air || !humidity) {
      return;
    }
    at.hours = *hours;
    at.air_c = *air;
    at.rh_pct = *humidity;
    if (!rows_.empty() && at.hours <= rows_.back().hours) {
      complain(line, cells[*where_[time_column]], "time does not rise");
      return;
    }
    rows_.push_back(at);
  }

  [[nodiscard]] std::vector<AirAt> rows() && { return std::move(rows_); }

 private:
  void complain(int line, const Cell& cell, std::string what) {
    problems_.add({name_, line, cell.column, ""}, std::move(what));
  }

  std::optional<double> number(const Cell& cell, int line, Column column, double least, double most) {
    const auto value = number_of<double>(cell.text);
    if (!value) {
      complain(line, cell, fmt::format("{}: \"{}\" is no number", names[column], cell.text));
      return std::nullopt;
    }
    if (!(*value >= least && *value <= most)) {
      complain(line, cell,
               fmt::format("{}: {:g} is outside {:g} to {:g}", names[column], *value, least, most));
      return std::nullopt;
    }
    return value;
  }

  std::optional<double> time(const Cell& cell, int line) {
    const auto hours = number_of<double>(cell.text);
    if (hours && !start_) {
      if (*hours >= 0.0 && *hours <= 24.0 * 366) {
        return hours;
      }
      complain(line, cell, fmt::format("time: {:g} h is outside 0 to a year", *hours));
      return std::nullopt;
    }
    const auto instant = parse_rfc3339(cell.text);
    const bool mixed = start_ ? hours.has_value() : instant && !rows_.empty();
    if (!instant || mixed) {
      complain(line, cell,
               mixed ? "time: hours and RFC 3339 are mixed"
                     : fmt::format("time: \"{}\" is neither hours nor RFC 3339", cell.text));
      return std::nullopt;
    }
    if (!start_) {
      start_ = *instant;
    }
    return seconds_between(*start_, *instant) / 3600.0;
  }

  std::string name_;
  Problems& problems_;
  std::array<std::optional<std::size_t>, columns> where_;
  std::size_t width_ = 0;
  std::optional<Time> start_;
  std::vector<AirAt> rows_;
};

}  // namespace

std::vector<AirAt> parse_air_csv(std::string_view text, const std::string& name, Problems& problems) {
  Reader reader(name, problems);
  bool has_header = false;
  bool has_row = false;
  int number = 0;
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";  // of a spreadsheet
  text.remove_prefix(text.starts_with(byte_order_mark) ? byte_order_mark.size() : 0);
  while (!text.empty()) {
    const auto end = std::min(text.find('\n'), text.size());
    const auto line = trimmed(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
    ++number;
    if (line.empty() || line.front() == '#') {
      continue;
    }
    if (has_header) {
      reader.row(cells_of(line), number);
      has_row = true;
      continue;
    }
    if (!reader.header(cells_of(line), number)) {
      return {};
    }
    has_header = true;
  }
  if (!has_row) {
    problems.add({name, 0, 0, ""}, "no row of air in this file");
  }
  return std::move(reader).rows();
}

}  // namespace dryclock::cli
