// The words that the daemon speaks in, by its settings.
#pragma once

#include <optional>

#include "config/config.hpp"
#include "wording/words.hpp"

namespace dryclock::app {

// In the shop's panels and time zone; absent: in its language and units.
[[nodiscard]] wording::Words words_for(const Config& config, std::optional<Manner> manner = {});
// For the log, which is in English.
[[nodiscard]] std::string for_log(const Fact& fact);

}  // namespace dryclock::app
