// The catalogue of messages, as it is compiled in.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "domain/manner.hpp"

namespace dryclock::wording {

// The patterns of one language by their keys, "alerts.bay-cold": American English has British words where it
// has none of its own. Throws std::runtime_error where a file is not as it should be.
using Patterns = std::map<std::string, std::string, std::less<>>;
[[nodiscard]] Patterns patterns(Language language);

}  // namespace dryclock::wording
