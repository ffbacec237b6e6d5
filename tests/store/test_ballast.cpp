#include <doctest/doctest.h>

#include "store/ballast.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

TEST_CASE("ballast takes up room until it is dropped") {
  const test::ScratchFolder folder;
  Ballast ballast(folder / "a.db", 100'000);
  CHECK(ballast.lay());
  CHECK(std::filesystem::file_size(folder / "a.db.ballast") == 100'000);
  CHECK(ballast.lay());  // it is there already
  CHECK(ballast.drop());
  CHECK_FALSE(std::filesystem::exists(folder / "a.db.ballast"));
  CHECK_FALSE(ballast.drop());
}

TEST_CASE("ballast must not be what fills the disk") {
  const test::ScratchFolder folder;
  const auto free = static_cast<std::int64_t>(std::filesystem::space(folder.path()).available);
  Ballast ballast(folder / "a.db", free / 2);
  CHECK_FALSE(ballast.lay());
  CHECK_FALSE(std::filesystem::exists(folder / "a.db.ballast"));
}

TEST_CASE("no ballast wanted is as good as laid") {
  const test::ScratchFolder folder;
  Ballast ballast(folder / "a.db", 0);
  CHECK(ballast.lay());
  CHECK_FALSE(std::filesystem::exists(folder / "a.db.ballast"));
  CHECK_FALSE(ballast.drop());
}

}  // namespace
}  // namespace dryclock::store
