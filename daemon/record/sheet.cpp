#include "record/sheet.hpp"

#include <algorithm>

#include "base/utf8.hpp"

namespace dryclock::record {
namespace {

constexpr Font body{9.0, false, 0.0};
constexpr Font small{7.5, false, 0.0};
constexpr Font small_bold{7.5, true, 0.0};
constexpr double leading = 1.32;
constexpr double cell_gap = 6.0, right_gap = 12.0;
constexpr double foot_room = 26.0;

}  // namespace

Result<std::string> Sheet::document(Paper paper, const wording::Words& words, const Metadata& metadata,
                                    const std::string& foot, const std::function<void(Sheet&)>& write,
                                    Fit fit) {
  const auto [width, height] = size_of(paper);
  constexpr double smallest = 0.7, step = 0.05;
  double scale = 1.0;
  int total = 0;
  while (true) {
    Canvas canvas(width, height, metadata, scale);
    Sheet sheet(canvas, words, metadata.title, foot, 0);
    write(sheet);
    total = sheet.page_;
    if (fit == Fit::as_long_as_it_is || total == 1 || scale < smallest + step) {
      break;
    }
    scale -= step;
  }
  Canvas canvas(width, height, metadata, scale);
  Sheet sheet(canvas, words, metadata.title, foot, total);
  write(sheet);
  sheet.foot();
  return canvas.finish();
}

Sheet::Sheet(Canvas& canvas, const wording::Words& words, std::string head, std::string foot, int total)
    : canvas_(canvas), words_(words), head_(std::move(head)), foot_(std::move(foot)), total_(total) {}

void Sheet::foot() {
  const double y = canvas_.height() - margin + 8.0;
  const auto page = words_.say(
      "record.page", {say::text("n", std::to_string(page_)), say::text("all", std::to_string(total_))});
  canvas_.line({margin, y - 10.0}, {margin + width(), y - 10.0}, {0.4, 0.5, Dash::solid});
  canvas_.text({margin, y}, foot_, small);
  canvas_.text({margin + width() - canvas_.text_width(page, small), y}, page, small);
}

void Sheet::new_page() {
  foot();
  canvas_.next_page();
  ++page_;
  y_ = margin;
  canvas_.text({margin, y_}, head_, small);
  y_ += 16.0;
}

void Sheet::keep(double height) {
  if (y_ + height > canvas_.height() - margin - foot_room) {
    new_page();
  }
}

std::vector<std::string> Sheet::wrapped(std::string_view text, double width, Font font) const {
  std::vector<std::string> out{""};
  while (!text.empty()) {
    const auto end = text.find(' ');
    std::string word{text.substr(0, end)};
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    std::string longer = out.back().empty() ? word : out.back() + ' ' + word;
    if (canvas_.text_width(longer, font) <= width) {
      out.back() = std::move(longer);
      continue;
    }
    if (!out.back().empty()) {
      out.emplace_back();
    }
    while (canvas_.text_width(word, font) > width && word.size() > 1) {
      std::size_t count = word.size();
      while (count > 1 && canvas_.text_width(word.substr(0, count), font) > width) {
        count = std::max<std::size_t>(1, utf8_head(word, count - 1).size());
      }
      out.back() = word.substr(0, count);
      out.emplace_back();
      word.erase(0, count);
    }
    out.back() = word;
  }
  return out;
}

void Sheet::lines(const std::vector<std::string>& all, double x, Font font) {
  for (const auto& line : all) {
    keep(font.size * leading);
    y_ += font.size * leading;
    canvas_.text({x, y_}, line, font);
  }
}

void Sheet::title(std::string_view text) {
  constexpr Font font{17.0, true, 0.0};
  lines(wrapped(text, width(), font), margin, font);
  y_ += 4.0;
}

void Sheet::heading(std::string_view text) {
  constexpr Font font{11.0, true, 0.0};
  keep(60.0);
  y_ += 10.0;
  lines({std::string{text}}, margin, font);
  y_ += 3.5;
  canvas_.line({margin, y_}, {margin + width(), y_}, {0.8, 0.0, Dash::solid});
  y_ += 3.0;
}

void Sheet::paragraph(std::string_view text, Font font) {
  lines(wrapped(text, width(), font), margin, font);
  y_ += 3.0;
}

void Sheet::point(std::string_view text) {
  constexpr double indent = 10.0;
  const auto all = wrapped(text, width() - indent, body);
  keep(body.size * leading);
  canvas_.text({margin + 1.0, y_ + body.size * leading}, "\xE2\x80\x93", body);  // en dash
  lines(all, margin + indent, body);
  y_ += 2.0;
}

void Sheet::fact(std::string_view name, std::string_view value) {
  constexpr double indent = 112.0;
  const auto all = wrapped(value, width() - indent, body);
  keep(body.size * leading);
  canvas_.text({margin, y_ + body.size * leading}, name, {body.size, false, 0.3});
  lines(all, margin + indent, body);
}

void Sheet::table_head(const std::vector<Column>& columns, const std::vector<double>& at) {
  y_ += small.size * leading;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const double x =
        columns[i].right ? at[i + 1] - right_gap - canvas_.text_width(columns[i].title, small_bold) : at[i];
    canvas_.text({x, y_}, columns[i].title, small_bold);
  }
  y_ += 3.0;
  canvas_.line({margin, y_}, {margin + width(), y_}, {0.5, 0.0, Dash::solid});
}

void Sheet::table(const std::vector<Column>& columns, const std::vector<std::vector<Cell>>& rows) {
  double shares = 0.0;
  for (const auto& column : columns) {
    shares += column.share;
  }
  std::vector<double> at{margin};
  for (const auto& column : columns) {
    at.push_back(at.back() + column.share / shares * (width() + cell_gap));
  }
  constexpr double line_height = small.size * 1.28;
  keep(4.0 * line_height);
  table_head(columns, at);
  for (const auto& row : rows) {
    std::vector<Cell> cells;
    std::size_t most = 1;
    for (std::size_t i = 0; i < row.size(); ++i) {
      Cell cell;
      for (const auto& line : row[i]) {
        for (auto& piece :
             wrapped(line, at[i + 1] - at[i] - (columns[i].right ? right_gap : cell_gap), small)) {
          cell.push_back(std::move(piece));
        }
      }
      most = std::max(most, cell.size());
      cells.push_back(std::move(cell));
    }
    const int page = page_;
    keep(static_cast<double>(most) * line_height + 5.0);
    if (page_ != page) {
      table_head(columns, at);
    }
    for (std::size_t i = 0; i < cells.size(); ++i) {
      for (std::size_t k = 0; k < cells[i].size(); ++k) {
        const double x =
            columns[i].right ? at[i + 1] - right_gap - canvas_.text_width(cells[i][k], small) : at[i];
        canvas_.text({x, y_ + static_cast<double>(k + 1) * line_height}, cells[i][k], small);
      }
    }
    y_ += static_cast<double>(most) * line_height + 3.0;
    canvas_.line({margin, y_}, {margin + width(), y_}, {0.25, 0.6, Dash::solid});
  }
  y_ += 5.0;
}

Rect Sheet::block(double height) {
  keep(height);
  const Rect out{margin, y_, width(), height};
  y_ += height;
  return out;
}

}  // namespace dryclock::record
