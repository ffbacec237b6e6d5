// Bytes as text, RFC 4648.
#pragma once

#include <string>
#include <string_view>

namespace dryclock {

// Section 4, with padding and without line ends. At most 1 GiB.
[[nodiscard]] std::string base64(std::string_view bytes);
// Section 5, for addresses and file names: '-' and '_' for '+' and '/', no padding.
[[nodiscard]] std::string base64url(std::string_view bytes);

}  // namespace dryclock
