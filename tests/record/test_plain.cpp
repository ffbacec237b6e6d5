#include "record/plain.hpp"

#include <doctest/doctest.h>

namespace dryclock::record {

TEST_CASE("facts for machines are in English, with keys for names") {
  const Plain plain(LocalZone::find("Europe/London").value());
  CHECK(plain({}).empty());
  CHECK(plain({"limits.wet-share",
               {say::word("zone", "words.zone-turn"), say::share("share", 0.12),
                say::share("needed", 0.1)}}) == "turn: likely wet on 12 % of it, under 10 % wanted");
  CHECK(plain({"record-figures.heat-capacity", {say::panel("panel", "mirror-left")}}) ==
        "panel mirror-left: heat capacity");
  const Fact film{"record-figures.film-measured-lot", {say::text("key", "own"), say::text("lot", "7")}};
  CHECK(plain({"record-figures.resistance", {say::fact("film", film), say::celsius("at", 21.0)}}) ==
        "film own as measured, lot 7: resistance at 21 °C");
  CHECK(plain({{}, {}, "5 µm, dür"}) == "5 µm, dür");
}

}  // namespace dryclock::record
