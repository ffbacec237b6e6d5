// What stands on MQTT after a start, in a shop that speaks another language than it did.
#include <doctest/doctest.h>

#include <algorithm>

#include "app/journalled_shop.hpp"
#include "app/times.hpp"
#include "support/scratch_folder.hpp"
#include "support/small_shop.hpp"

namespace dryclock::app {
namespace {

using namespace std::chrono_literals;

// The message that waits for MQTT below the topic: nothing is delivered here.
OutboxRow stated(const JournalledShop& shop, std::string_view topic) {
  const auto rows = shop.reader().pending("mqtt", 1'000).value();
  const auto found = std::ranges::find(rows, topic, [](const auto& row) { return row.message.topic; });
  return found == rows.end() ? OutboxRow{} : *found;
}

bool says(const OutboxRow& row, std::string_view words) {
  CAPTURE(row.message.payload);
  return row.message.retained && row.message.payload.find(words) != std::string::npos;
}

// As long as a cold bay takes to be told of; what was committed before is written then.
void is_cold(JournalledShop& shop, Time from) {
  for (int minute = 1; minute <= 20; ++minute) {
    shop.hears(from + minute * 1min, "bays/front", R"({"t":3.5,"h":50.5})");
  }
  shop.settles();
}

}  // namespace

TEST_CASE("open alerts are said anew in the shop's new language, once, and nobody is told again") {
  const test::ScratchFolder folder;
  auto setup = support::small_shop();
  std::size_t told = 0;
  {
    JournalledShop shop(folder / "a.db", setup, monday);
    is_cold(shop, monday);
    shop.raises(AlertRule::disk_low, "disk",
                {"alerts.disk-low", {say::number("free", Measure::storage, 5e8)}});
    is_cold(shop, monday + 20min);
    CHECK(says(stated(shop, "alert/bay-cold/front"), "Look at the heater"));
    CHECK(says(stated(shop, "alert/disk-low/disk"), "are free on the disk"));
    told = shop.reader().pending("phone", 1'000).value().size();
    REQUIRE(told > 0);
  }
  setup.site.manner.language = Language::german;
  std::int64_t message = 0;
  {
    JournalledShop shop(folder / "a.db", setup, monday + 41min);
    is_cold(shop, monday + 41min);
    const auto cold = stated(shop, "alert/bay-cold/front");
    CHECK(says(cold, "front hat 3,5 °C und liegt seit 10 min unter"));
    CHECK(says(cold, "Nach der Heizung sehen"));
    CHECK(says(stated(shop, "alert/disk-low/disk"), "Auf dem Datenträger mit dem Journal sind 500 MB frei."));
    const auto in_table = shop.reader().alerts_open_at(Time::max()).value();
    const auto kept = std::ranges::find(in_table, AlertRule::bay_cold, &AlertSummary::rule);
    REQUIRE(kept != in_table.end());
    CHECK(kept->advice.words.starts_with("Nach der Heizung sehen"));
    CHECK(shop.reader().pending("phone", 1'000).value().size() == told);
    message = cold.id;
  }
  JournalledShop shop(folder / "a.db", setup, monday + 62min);
  is_cold(shop, monday + 62min);
  CHECK(stated(shop, "alert/bay-cold/front").id == message);
}

}  // namespace dryclock::app
