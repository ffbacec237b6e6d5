#include "cli/qr_text.hpp"

#include <qrcodegen/qrcodegen.hpp>

namespace dryclock::cli {
namespace {

constexpr int quiet_zone = 4;  // ISO/IEC 18004: squares on each side
constexpr auto black_on_white = "\x1b[30;107m";
constexpr auto usual_colours = "\x1b[0m";

}  // namespace

std::string qr_text(const std::string& content, bool coloured) {
  const auto code = qrcodegen::QrCode::encodeText(content.c_str(), qrcodegen::QrCode::Ecc::MEDIUM);
  const int end = code.getSize() + quiet_zone;
  std::string text;
  for (int y = -quiet_zone; y < end; y += 2) {
    text += coloured ? black_on_white : "";
    for (int x = -quiet_zone; x < end; ++x) {
      const bool upper = code.getModule(x, y);  // beyond the code: light
      const bool lower = code.getModule(x, y + 1);
      text += upper && lower ? "\u2588" : upper ? "\u2580" : lower ? "\u2584" : " ";
    }
    text += coloured ? usual_colours : "";
    text += '\n';
  }
  return text;
}

}  // namespace dryclock::cli
