// SHA-256 (FIPS 180-4) as `sha256sum` prints it.
#pragma once

#include <array>
#include <string>
#include <string_view>

namespace dryclock {

// Throw std::runtime_error where the library has none.
[[nodiscard]] std::array<unsigned char, 32> sha256(std::string_view bytes);
// 64 lower-case hexadecimal digits.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);
[[nodiscard]] bool is_sha256_hex(std::string_view text);

}  // namespace dryclock
