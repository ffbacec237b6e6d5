// The flags that travel with a computed value.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "wording/words.hpp"

namespace dryclock::cli {

// As the API names them.
[[nodiscard]] std::vector<std::string> validity_keys(std::uint8_t validity);
// As people are told.
[[nodiscard]] std::vector<std::string> validity_words(std::uint8_t validity, const wording::Words& words);

}  // namespace dryclock::cli
