// Whether names and paths into other parties' worlds are well formed. Each `wrong_with` returns what is
// wrong, empty when nothing is.
#pragma once

#include <string>
#include <string_view>

namespace dryclock {

// A subscription's topic filter: MQTT 5.0 section 4.7.
[[nodiscard]] std::string wrong_with_topic_filter(std::string_view filter);
// The first levels of topics that are published: no wildcard, not the broker's own "$...".
[[nodiscard]] std::string wrong_with_topic_base(std::string_view base);
// A JSON pointer: RFC 6901 section 3. Empty is the whole document.
[[nodiscard]] std::string wrong_with_pointer(std::string_view pointer);
// A key as it stands in such a pointer, behind its "/".
[[nodiscard]] std::string pointer_token(std::string_view key);
// A key of a catalogue entry: lower-case letters, digits and "-".
[[nodiscard]] std::string wrong_with_key(std::string_view key);
// The name of a bay, a sensor or a channel: it becomes a level of topics and addresses.
[[nodiscard]] std::string wrong_with_name(std::string_view name);

}  // namespace dryclock
