#include "cli/table.hpp"

#include <algorithm>

#include "base/utf8.hpp"

namespace dryclock::cli {

std::string one_line(std::string text) {
  std::ranges::replace_if(
      text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; }, ' ');
  return text;
}

void Table::row(std::vector<std::string> cells) {
  std::ranges::transform(cells, cells.begin(), one_line);
  rows_.push_back(std::move(cells));
}

std::string Table::text(std::size_t indent) const {
  std::vector<std::size_t> widths;
  for (const auto& row : rows_) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) {
      widths[i] = std::max(widths[i], utf8_count(row[i]));
    }
  }
  std::string out;
  for (const auto& row : rows_) {
    std::string line(indent, ' ');
    for (std::size_t i = 0; i < row.size(); ++i) {
      line += align_ == Align::left ? padded(row[i], widths[i] + 2)
                                    : std::string(widths[i] - utf8_count(row[i]), ' ') + row[i] + "  ";
    }
    out += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
  }
  return out;
}

std::string padded(std::string_view text, std::size_t width) {
  return std::string{text} + std::string(width - std::min(width, utf8_count(text)), ' ');
}

std::string named_lines(const Named& lines, std::size_t indent, std::size_t least) {
  std::size_t width = least;
  for (const auto& [name, what] : lines) {
    width = std::max(width, utf8_count(name) + 2);
  }
  std::string out;
  for (const auto& [name, what] : lines) {
    out += std::string(indent, ' ') + padded(name, width);
    for (const char c : what) {
      out += c;
      out += c == '\n' ? std::string(indent + width, ' ') : "";
    }
    out += '\n';
  }
  return out;
}

}  // namespace dryclock::cli
