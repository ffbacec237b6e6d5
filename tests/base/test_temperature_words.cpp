#include <doctest/doctest.h>

#include "base/temperature_words.hpp"

// Common knowledge, no source: 0 C is 32 F, 100 C is 212 F, -40 is the same on both.
TEST_CASE("temperatures in a sentence, in Fahrenheit") {
  using dryclock::in_fahrenheit;
  CHECK(in_fahrenheit("It is at 0.0 C.") == "It is at 32.0 F.");
  CHECK(in_fahrenheit("between -40 C and 100 C") == "between -40 F and 212 F");
  CHECK(in_fahrenheit("20.0 C") == "68.0 F");
  // A difference of 5 K is one of 9 F.
  CHECK(in_fahrenheit("by 5 K or more") == "by 9 F or more");
  CHECK(in_fahrenheit("moves by -0.5 K an hour at 20 C") == "moves by -0.9 F an hour at 68 F");
  for (const auto* kept : {"piece 2 Checked", "bay C", "over K2CO3", "vitamin 12 C3", "2 K2CO3",
                           "door 3.1.2 C", "", " C", "v2 C"}) {
    CHECK(in_fahrenheit(kept) == kept);
  }
}
