#include "record/plain.hpp"

#include <doctest/doctest.h>

namespace dryclock::record {

TEST_CASE("facts for machines are in English, with keys for names") {
  const Plain plain(LocalZone::find("Europe/London").value());
  CHECK(plain({}).empty());
  // 5.34 g/m2 and 6.13 h in two figures.
  CHECK(plain({"limits.water",
               {say::word("zone", "words.zone-turn"), say::figure("water", Measure::water, 5.34),
                say::figure("needed", Measure::water, 0.05), say::figure("hours", Measure::figure, 6.13)}}) ==
        "turn: 5.3 g/m² left, 6.1 standard hours to go");
  CHECK(plain({"record-figures.heat-capacity", {say::panel("panel", "mirror-left")}}) ==
        "panel mirror-left: heat capacity");
  const Fact film{"record-figures.film-measured-lot", {say::text("key", "own"), say::text("lot", "7")}};
  CHECK(plain({"record-figures.resistance", {say::fact("film", film), say::celsius("at", 21.0)}}) ==
        "film own as measured, lot 7: resistance at 21 °C");
  CHECK(plain({{}, {}, "5 µm, dür"}) == "5 µm, dür");
}

}  // namespace dryclock::record
