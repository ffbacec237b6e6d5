// What tells who a customer is. It never goes into the journal, which keeps everything for ever: there stands
// only a commitment, SHA-256 over 32 random bytes and the text. Text and salt lie in a table of their own,
// and can be erased; without the salt nobody can find the text by trying likely ones.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "domain/types.hpp"

namespace dryclock {

inline constexpr std::array<std::string_view, 2> personal_fields{"plate", "customer"};

struct PersonalText {
  std::string field;  // of personal_fields
  std::string salt;   // 32 bytes
  std::string text;
  bool operator==(const PersonalText&) const = default;
};

}  // namespace dryclock
