// Safety notes, printed where they matter. They defer to data sheets and local rules, and never say that
// something is safe.
#pragma once

#include <string_view>

namespace dryclock::cli::cautions {

inline constexpr std::string_view cutting =
    "An estimate is advice. Look and feel before cutting: a blade on a vehicle cannot be undone.";
inline constexpr std::string_view heat =
    "Heat guns: keep to the film maker's temperature and measure the surface; keep moving; keep away from "
    "solvent, wet electrics, glass and airbags. Hot air and hot panels burn.";
inline constexpr std::string_view alcohol =
    "Isopropyl alcohol: flammable vapour, heavier than air. Ventilate; no ignition source and no heat gun "
    "while it is "
    "wet; gloves and eye protection. The product's safety data sheet and the workplace rules decide.";

}  // namespace dryclock::cli::cautions
