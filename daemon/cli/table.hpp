// Columns of text, each as wide as its widest cell.
#pragma once

#include <string>
#include <vector>

namespace dryclock::cli {

class Table {
 public:
  explicit Table(std::vector<std::string> header) { rows_.push_back(std::move(header)); }
  void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  [[nodiscard]] bool empty() const { return rows_.size() == 1; }
  // Each line starts with `indent` spaces; no line ends with one.
  [[nodiscard]] std::string text(std::size_t indent) const;

 private:
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace dryclock::cli
