#include <doctest/doctest.h>

#include "seal/key_folder.hpp"
#include "sealed_shop.hpp"

namespace dryclock::seal {

namespace fs = std::filesystem;

TEST_CASE("keys are for their owner alone, and old ones go") {
  const test::ScratchFolder scratch;
  const auto path = scratch / "keys";
  const KeyFolder folder(path);
  CHECK(fs::status(path).permissions() == fs::perms::owner_all);
  const auto key = SigningKey::generate();
  folder.keep(1, key);
  folder.keep(2, SigningKey::generate());
  CHECK(fs::status(path / "00000001.pem").permissions() == (fs::perms::owner_read | fs::perms::owner_write));
  CHECK(folder.load(1).public_pem() == key.public_pem());
  folder.erase_all_but(2);
  CHECK(!folder.holds(1));
  CHECK(folder.holds(2));
  CHECK(files_of(path).size() == 1);
}

TEST_CASE("a folder that others can enter is refused") {
  const test::ScratchFolder scratch;
  const auto path = scratch / "keys";
  fs::create_directory(path);
  fs::permissions(path, fs::perms::owner_all | fs::perms::group_read | fs::perms::group_exec);
  CHECK_THROWS_AS(KeyFolder{path}, std::runtime_error);
}

}  // namespace dryclock::seal
