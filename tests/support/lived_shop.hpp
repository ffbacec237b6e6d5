// What the shop of support/whole_shop.hpp has lived through by a Saturday morning in winter, when its local
// time is UTC. Everything is told when it happens, and the air is what its sensor sends.
#pragma once

#include <filesystem>
#include <memory>

#include "support/whole_shop.hpp"

namespace dryclock::test {

// Sat 7 March 2026, 06:40.
[[nodiscard]] Time saturday_morning();

// "Green saloon" left 16 days ago and "Blue hatchback" 3 days ago, each with a bonnet and a mirror, the
// saloon's bonnet trimmed 2.5 h after it was laid. "Grey estate" came on Friday into `front`, agreed for
// Sunday 08:40: its bonnet (squeegeed dry, Fri 06:40; wrapped Sat 01:40), its front bumper (squeegeed dry,
// with alcohol, Fri 21:40) and its mirror (squeegeed dry, Sat 03:40). "White van" stands in `back` with
// nothing on it. The bay was at 21 C and 45 %RH until 05:00, then at 17.2 C and 50 %; two readings of 99 %RH
// in the night were not to be believed. It is lived in once; this opens a copy of
// it. `options.now` counts for nothing.
[[nodiscard]] std::unique_ptr<WholeShop> lived_shop(const std::filesystem::path& folder,
                                                    WholeShopOptions options = {});

// By its reference, and by the panel's key; throws where it is not on the board.
[[nodiscard]] VehicleId vehicle_in(WholeShop& shop, const std::string& reference);
[[nodiscard]] PieceId piece_in(WholeShop& shop, const std::string& reference, const std::string& panel);

}  // namespace dryclock::test
