// Sizes of paper.
#pragma once

namespace dryclock::record {

enum class Paper : unsigned char { a4, letter };

struct PaperSize {
  double width = 0.0, height = 0.0;  // points
};
// ISO 216 A4 (210 mm x 297 mm), ANSI Letter (8.5 in x 11 in).
[[nodiscard]] constexpr PaperSize size_of(Paper paper) {
  return paper == Paper::a4 ? PaperSize{595.276, 841.890} : PaperSize{612.0, 792.0};
}

}  // namespace dryclock::record
