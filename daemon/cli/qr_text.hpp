// A QR code (ISO/IEC 18004) in letters, for a phone's camera to read off a terminal.
#pragma once

#include <string>

namespace dryclock::cli {

// Two rows of squares in each line of text, with the quiet zone of four squares that the standard asks for.
// `coloured`: black on white by escape sequences, whatever the terminal's own colours are; else a block is a
// dark square, as on paper. Error correction M.
[[nodiscard]] std::string qr_text(const std::string& content, bool coloured);

}  // namespace dryclock::cli
