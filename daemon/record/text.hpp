// Numbers as text: by std::to_chars, so that no locale of the machine gets into the bytes.
#pragma once

#include <string>
#include <string_view>

namespace dryclock::record {

// The shortest that reads back the same: "22.75". Empty for what is not a number.
[[nodiscard]] std::string number(double value);
// The same for people: "5 × 10⁻¹⁴" where number() has an exponent.
[[nodiscard]] std::string number_in_print(double value);
// With so many decimals: "87.3". "-" for what is not finite; never "-0.0".
[[nodiscard]] std::string fixed(double value, int decimals);

// RFC 4180: quoted where it has to be.
[[nodiscard]] std::string csv_field(std::string_view text);

}  // namespace dryclock::record
