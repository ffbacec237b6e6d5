#include "engine/superseded.hpp"

#include <doctest/doctest.h>

using dryclock::Seq;
using dryclock::engine::superseded_by;

TEST_CASE("what a correction takes back is out, until the correction is taken back itself") {
  CHECK(superseded_by({}).empty());
  CHECK(superseded_by({{7, 3}}) == std::set<Seq>{3});
  CHECK(superseded_by({{7, 3}, {8, 7}}) == std::set<Seq>{7});             // 3 counts again
  CHECK(superseded_by({{7, 3}, {8, 7}, {9, 8}}) == std::set<Seq>{3, 8});  // and is out again
  CHECK(superseded_by({{7, 3}, {9, 4}}) == std::set<Seq>{3, 4});
}
