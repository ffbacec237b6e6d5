// What pieces and vehicles are called, typed to the built program against the daemon in the test's process.
#include <doctest/doctest.h>

#include "cli/run_against.hpp"
#include "support/scratch_folder.hpp"

using dryclock::test::has;
using dryclock::test::run_against;
using dryclock::test::RunningShop;
using dryclock::test::ScratchFolder;

TEST_CASE("left and right, another part, and what the shell completes") {
  const RunningShop shop;
  const auto laid = run_against(shop, "lay 'White van' left front door --at 06:30");
  CAPTURE(laid.out);
  CHECK(laid.code == 0);
  CHECK(has(laid, "left front door laid on White van"));
  CHECK(run_against(shop, "lay 'White van' front door right").code == 0);
  const auto which = run_against(shop, "lay 'White van' front door");
  CHECK(which.code == 2);
  CHECK(has(which, "\n  left front door\n  right front door"));
  const auto twice = run_against(shop, "lay 'White van' door front left");
  CAPTURE(twice.out);
  CHECK(twice.code == 1);
  CHECK(has(twice, "there is a piece already: left front door (number "));
  CHECK(has(twice, "dryclock relay"));
  CHECK(has(
      run_against(
          shop, "lay 'White van' door front left --another --place 'lower half' --other-place 'upper half'"),
      "left front door, lower half laid"));
  const auto lay = [&](const char* rest) {
    return run_against(shop, std::string{"lay 'White van' "} + rest);
  };
  CHECK(lay("bonnet --other-place 'upper half'").code == 2);  // of what, it does not say
  CHECK(lay("rear bumper --another --other-place 'upper half'").code == 2);
  CHECK(has(run_against(shop, "look 'White van' left door upper clear"), "left front door, upper half"));
  CHECK(run_against(shop, "wrap 'White van' door right").code == 0);
  CHECK(run_against(shop, "relay 'White van' door right").code == 0);
  CHECK(has(run_against(shop, "complete wrap 'White van' le"), "left"));
  CHECK(has(run_against(shop, "complete vehicle show Wh"), "White van"));
}

TEST_CASE("vehicles that have left are found, shown and recorded by reference") {
  const RunningShop shop;
  CHECK(has(run_against(shop, "find saloon"), "Green saloon"));
  CHECK(has(run_against(shop, "find no such thing"), "Nothing found."));
  CHECK(has(run_against(shop, "vehicle show 'Green saloon'"), "Green saloon"));
  const ScratchFolder folder;
  CHECK(run_against(shop, "record 'green saloon' -o " + (folder / "r.pdf").string()).code == 0);
  CHECK(run_against(shop, "record 'pink saloon' -o " + (folder / "r.pdf").string()).code == 2);
}
