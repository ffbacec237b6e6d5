// A salted commitment: it can be shown later that a text is the one that was meant, and nobody who has not
// the salt can find the text by trying. Throws std::runtime_error where there are no random numbers.
#pragma once

#include <string>
#include <string_view>

namespace dryclock::seal {

struct Commitment {
  std::string salt;    // 32 random bytes
  std::string sha256;  // of the salt's bytes followed by the text's: `sha256sum` of a file with both
};

[[nodiscard]] Commitment commit_to(std::string_view text);

// 32 bytes from the library's generator.
[[nodiscard]] std::string random_bytes();

}  // namespace dryclock::seal
