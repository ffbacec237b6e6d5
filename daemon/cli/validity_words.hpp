// The flags that travel with a computed value, in the words the API uses.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace dryclock::cli {

[[nodiscard]] std::vector<std::string> validity_words(std::uint8_t validity);

}  // namespace dryclock::cli
