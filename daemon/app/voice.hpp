// The words that the daemon speaks in, by its settings.
#pragma once

#include <string>

#include "config/config.hpp"
#include "wording/words.hpp"

namespace dryclock::app {

// With the shop's panels and time zone, in its own language and units or in others.
[[nodiscard]] wording::Words words_for(const Config& config);
[[nodiscard]] wording::Words words_for(const Config& config, Manner manner);
// For the log, which is in English.
[[nodiscard]] std::string for_log(const Fact& fact);

}  // namespace dryclock::app
