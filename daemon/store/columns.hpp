// How domain values stand in columns: times as milliseconds since 1970, enumerations and flags as integers.
// Stored numbers are for ever: enumerations may grow at their end, and never change order.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <type_traits>

#include "domain/types.hpp"

namespace dryclock::store {

template <class E>
requires std::is_enum_v<E>
[[nodiscard]] constexpr std::int64_t code_of(E value) {
  return static_cast<std::int64_t>(value);
}

[[nodiscard]] constexpr std::optional<std::int64_t> to_column(std::optional<Time> time) {
  return time ? std::optional{to_unix_ms(*time)} : std::nullopt;
}

inline constexpr std::int64_t journal_dup = 1, journal_retained = 2, journal_cut = 4;

[[nodiscard]] inline std::int64_t journal_flags(const RawMessage& message) {
  return (message.dup ? journal_dup : 0) | (message.retained ? journal_retained : 0) |
         (message.cut ? journal_cut : 0);
}

inline constexpr std::int64_t reading_source_time = 1, reading_dup = 2, reading_retained = 4;

[[nodiscard]] inline std::int64_t reading_flags(const Reading& reading) {
  return (reading.source_time ? reading_source_time : 0) | (reading.dup ? reading_dup : 0) |
         (reading.retained ? reading_retained : 0);
}

// In a query of `session`: the machine's boot, where the kernel hides it a name of its own.
inline constexpr std::string_view boot_column = "iif(boot_id = '', 'session ' || id, boot_id)";

}  // namespace dryclock::store
