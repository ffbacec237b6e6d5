// SHA-256 (FIPS 180-4) as `sha256sum` prints it.
#pragma once

#include <string>
#include <string_view>

namespace dryclock::seal {

// 64 lower-case hexadecimal digits.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);
[[nodiscard]] bool is_sha256_hex(std::string_view text);

}  // namespace dryclock::seal
