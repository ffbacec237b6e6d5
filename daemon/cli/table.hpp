// Columns of text, each as wide as its widest cell, counted in characters.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace dryclock::cli {

// What a device sent, or somebody noted, with spaces for its control characters.
[[nodiscard]] std::string one_line(std::string text);

class Table {
 public:
  enum class Align : std::uint8_t { left, right };
  explicit Table(std::vector<std::string> header, Align align = Align::left) : align_(align) {
    rows_.push_back(std::move(header));
  }
  void row(std::vector<std::string> cells);  // each as one_line
  [[nodiscard]] bool empty() const { return rows_.size() == 1; }
  // Each line starts with `indent` spaces; no line ends with one.
  [[nodiscard]] std::string text(std::size_t indent) const;

 private:
  Align align_;
  std::vector<std::vector<std::string>> rows_;
};

// `text` with spaces up to a width in characters.
[[nodiscard]] std::string padded(std::string_view text, std::size_t width);
// A name and what it is, a line each; what it is begins in one column, `least` characters in or more. A text
// of several lines goes on below where it began.
using Named = std::vector<std::pair<std::string, std::string>>;
[[nodiscard]] std::string named_lines(const Named& lines, std::size_t indent, std::size_t least);

}  // namespace dryclock::cli
