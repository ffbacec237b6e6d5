#include <doctest/doctest.h>

#include <fstream>

#include "store/space.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

using namespace std::chrono_literals;

constexpr Time start = from_unix_ms(0);

TEST_CASE("years left: what is free by what a year takes at the rate of the last days") {
  const test::ScratchFolder folder;
  std::ofstream(folder / "a.db") << std::string(1'000'000, 'x');
  std::ofstream(folder / "a.db-wal") << std::string(200'000, 'x');
  const Extent journal{.first = 1, .last = 8'000, .first_at = start, .last_at = start + 96h};
  const auto whole = measure_space(folder / "a.db", journal, journal, 0);
  REQUIRE(whole.has_value());
  CHECK(whole->database_bytes == 1'200'000);
  CHECK(whole->rows_per_day == 2'000.0);
  CHECK(whole->bytes_per_day == doctest::Approx(300'000.0));  // 1.2 MB in 4 days
  REQUIRE(whole->years_left);
  CHECK(*whole->years_left == doctest::Approx(static_cast<double>(whole->free_bytes) / (300'000.0 * 365.25)));

  // The second half of the rows came in the last day, and the seal takes as much as the database: 300 bytes a
  // row, 4000 rows a day.
  const Extent recent{.first = 4'001, .last = 8'000, .first_at = start + 72h, .last_at = start + 96h};
  const auto late = measure_space(folder / "a.db", journal, recent, 1'200'000);
  REQUIRE(late.has_value());
  CHECK(late->seal_bytes == 1'200'000);
  CHECK(late->bytes_per_day == doctest::Approx(1'200'000.0));
}

TEST_CASE("no rate is told from less than an hour") {
  const test::ScratchFolder folder;
  std::ofstream(folder / "a.db") << "x";
  const Extent journal{.first = 1, .last = 8'000, .first_at = start, .last_at = start + 59min};
  const auto space = measure_space(folder / "a.db", journal, journal, 0);
  REQUIRE(space.has_value());
  CHECK(space->rows_per_day == 0.0);
  CHECK_FALSE(space->years_left);
}

TEST_CASE("a file system that is not there is a problem") {
  CHECK_FALSE(measure_space("/no/such/folder/a.db", {}, {}, 0).has_value());
}

}  // namespace
}  // namespace dryclock::store
