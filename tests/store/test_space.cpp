#include <doctest/doctest.h>

#include <fstream>

#include "store/space.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

using namespace std::chrono_literals;

constexpr Time start = from_unix_ms(0);

TEST_CASE("years left: what is free by what a year takes at the rate so far") {
  const test::ScratchFolder folder;
  std::ofstream(folder / "a.db") << std::string(1'000'000, 'x');
  std::ofstream(folder / "a.db-wal") << std::string(461'000, 'x');
  const auto space =
      measure_space(folder / "a.db", {.first = 1, .last = 8'000, .first_at = start, .last_at = start + 96h});
  REQUIRE(space.has_value());
  CHECK(space->database_bytes == 1'461'000);
  CHECK(space->rows_per_day == 2'000.0);
  REQUIRE(space->years_left);
  // 1461000 bytes in 4 days are 133.4 MB a year of 365.25 days: 1461000 / 4 * 365.25 = 133407562.5.
  CHECK(*space->years_left == doctest::Approx(static_cast<double>(space->free_bytes) / 133'407'562.5));
}

TEST_CASE("no rate is told from less than an hour") {
  const test::ScratchFolder folder;
  std::ofstream(folder / "a.db") << "x";
  const auto space = measure_space(folder / "a.db",
                                   {.first = 1, .last = 8'000, .first_at = start, .last_at = start + 59min});
  REQUIRE(space.has_value());
  CHECK(space->rows_per_day == 0.0);
  CHECK_FALSE(space->years_left);
}

TEST_CASE("a file system that is not there is a problem") {
  CHECK_FALSE(measure_space("/no/such/folder/a.db", {}).has_value());
}

}  // namespace
}  // namespace dryclock::store
