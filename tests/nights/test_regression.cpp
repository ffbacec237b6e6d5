// One whole job, to the minute. These times come from this program itself: they tell when something has
// changed, not whether it is right (the models' tests and the facts in the other nights do).
#include <doctest/doctest.h>

#include "nights/night.hpp"

using namespace dryclock;
using nights::Night;
using std::chrono::hours;
using std::chrono::minutes;

TEST_SUITE("regression") {
  TEST_CASE("a van over two nights: everything that was told") {
    Night night{"2026-03-02 14:00", "Europe/London"};
    night.air_is("front", 21.0, 50.0);
    night.sends_every("front", minutes{1});
    night.passes_to("14:30");
    const auto van = night.arrives("grey-van", "front", 12.0, "2026-03-05 17:00");
    night.passes_to("15:00");
    const auto bonnet = night.lays(van, "bonnet");
    night.passes_to("16:00");
    night.lays(van, "lamp");
    night.passes_to("22:00");
    night.air_drifts("front", 13.0, 65.0, hours{5});
    night.passes_to("07:00");
    night.air_drifts("front", 21.0, 50.0, hours{2});
    night.passes_to("11:00");
    night.does(EdgeWrapped{bonnet});
    night.passes_to("2026-03-05 09:00");
    std::string text;
    for (const auto& line : night.timeline()) {
      text += line + "\n";
    }
    CHECK(text ==
          "Mon 14:15 raised sensor-silent/gateway\n"
          "Mon 14:30 raised dew/31\n"
          "Mon 14:32 cleared dew/31\n"
          "Mon 22:00 look: liquid-gone bonnet\n"
          "Mon 22:00 look: wrap-ready bonnet\n"
          "Mon 22:00 look: trim-ready bonnet\n"
          "Mon 22:00 look: refit-ready bonnet\n"
          "Mon 22:00 look: liquid-gone lamp\n"
          "Mon 22:00 look: refit-ready lamp\n"
          "Mon 22:00 look: clear lamp\n"
          "Mon 22:00 look: may-leave lamp\n"
          "Mon 22:00 raised worth-a-look/62:look\n"
          "Mon 22:00 raised worth-a-look/123:look\n"
          "Tue 01:55 raised bay-cold/front\n"
          "Tue 07:00 look: clear bonnet\n"
          "Tue 07:00 look: may-leave bonnet\n"
          "Tue 07:46 cleared bay-cold/front\n"
          "Thu 09:00 look: release-ready 31\n"
          "Thu 09:00 raised worth-a-look/31\n");
  }
}
