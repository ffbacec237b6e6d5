// Numbers and times as text: by std::to_chars, so that no locale of the machine gets into the bytes.
#pragma once

#include <string>
#include <string_view>

#include "base/time.hpp"

namespace dryclock::record {

// The shortest that reads back the same: "22.75". Empty for what is not a number.
[[nodiscard]] std::string number(double value);
// The same for people: "5 × 10⁻¹⁴" where number() has an exponent.
[[nodiscard]] std::string number_in_print(double value);
// With so many decimals: "87.3". "-" for what is not finite; never "-0.0".
[[nodiscard]] std::string fixed(double value, int decimals);
// 0.873 -> "87.3 %".
[[nodiscard]] std::string percent(double share);
// "2 h 10 min", "3 d 4 h".
[[nodiscard]] std::string span(Millis length);

// RFC 4180: quoted where it has to be.
[[nodiscard]] std::string csv_field(std::string_view text);

}  // namespace dryclock::record
