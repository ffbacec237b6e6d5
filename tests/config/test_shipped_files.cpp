#include "config/shipped_files.hpp"

#include <doctest/doctest.h>

#include "support/config_files.hpp"

using namespace dryclock;
using dryclock::test::ScratchFolder;
using dryclock::test::shipped;

TEST_CASE("the folder that is asked for wins, and must hold the catalogue") {
  const auto found = find_shipped_files(shipped().string());
  REQUIRE(found.has_value());
  CHECK(*found == shipped());
  const ScratchFolder empty;
  const auto missing = find_shipped_files(empty.path().string());
  REQUIRE(missing.has_error());
  CHECK(to_string(missing.error()) ==
        "--config-dir " + empty.path().string() + ": no films.toml in this folder");
}

TEST_CASE("then the environment's") {
  REQUIRE(setenv("DRYCLOCK_CONFIG_DIR", shipped().c_str(), 1) == 0);
  const auto found = find_shipped_files("");
  REQUIRE(found.has_value());
  CHECK(*found == shipped());
  const ScratchFolder empty;
  REQUIRE(setenv("DRYCLOCK_CONFIG_DIR", empty.path().c_str(), 1) == 0);
  CHECK(find_shipped_files("").has_error());
  unsetenv("DRYCLOCK_CONFIG_DIR");
}
