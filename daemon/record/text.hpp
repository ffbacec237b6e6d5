// Numbers as text: by std::to_chars, so that no locale of the machine gets into the bytes.
#pragma once

#include <string>
#include <string_view>

namespace dryclock::record {

// The shortest that reads back the same: "22.75". Empty for what is not a number.
[[nodiscard]] std::string number(double value);
// The same for people, with their decimal sign: "5 × 10⁻¹⁴" where number() has an exponent.
[[nodiscard]] std::string number_in_print(double value, std::string_view decimal_sign);
// With so many decimals: "87.3". "-" for what is not finite; never "-0.0".
[[nodiscard]] std::string fixed(double value, int decimals);

// Holds two words on one line; drawn as a space.
inline constexpr std::string_view no_break_space = "\xC2\xA0";

// RFC 4180: quoted where it has to be.
[[nodiscard]] std::string csv_field(std::string_view text);

}  // namespace dryclock::record
