#include <doctest/doctest.h>

#include "seal/durable_file.hpp"
#include "sealed_shop.hpp"

namespace dryclock::seal {

namespace fs = std::filesystem;

TEST_CASE("a file is replaced whole, and a secret one is for its owner alone") {
  const test::ScratchFolder folder;
  CHECK(!read_if_there(folder / "a"));
  CHECK_THROWS_AS((void)read_whole(folder / "a"), fs::filesystem_error);
  write_durably(folder / "a", "one", folder / "tmp");
  write_durably(folder / "a", "two", folder / "tmp", true);
  CHECK(read_whole(folder / "a") == "two");
  CHECK(!fs::exists(folder / "tmp"));
  CHECK(fs::status(folder / "a").permissions() == (fs::perms::owner_read | fs::perms::owner_write));
  CHECK_THROWS_AS(write_durably(folder / "none/a", "x", folder / "tmp"), fs::filesystem_error);
}

TEST_CASE("an erased file's bytes are overwritten before it goes") {
  const test::ScratchFolder folder;
  write_durably(folder / "key", "secret", folder / "tmp", true);
  fs::create_hard_link(folder / "key", folder / "other name");  // shows what became of the bytes
  erase(folder / "key");
  CHECK(!fs::exists(folder / "key"));
  CHECK(content(folder / "other name") == std::string(6, '\0'));
}

TEST_CASE("folders with their parents") {
  const test::ScratchFolder folder;
  make_folder(folder / "a/b/c");
  make_folder(folder / "a/b/c");
  CHECK(fs::is_directory(folder / "a/b/c"));
}

}  // namespace dryclock::seal
