// Which topics an MQTT filter takes.
#pragma once

#include <string_view>

namespace dryclock::ingest {

// MQTT 3.1.1, section 4.7: `+` stands for one level, `#` for what remains and for its parent level, and a
// wildcard in the first level never takes a topic that starts with `$`. A malformed filter takes nothing.
[[nodiscard]] bool matches(std::string_view filter, std::string_view topic);

}  // namespace dryclock::ingest
