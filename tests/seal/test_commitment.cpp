#include "seal/commitment.hpp"

#include <doctest/doctest.h>

#include "base/sha256.hpp"
#include "sealed_shop.hpp"
#include "support/process.hpp"

namespace dryclock::seal {
namespace {

TEST_CASE("coreutils finds the same commitment in a file of salt and text") {
  const test::ScratchFolder folder;
  const auto made = commit_to("DEMO 42");
  CHECK(made.salt.size() == 32);
  overwrite(folder / "plate", made.salt + "DEMO 42");
  test::Process sum({"sha256sum", folder / "plate"}, folder / "said");
  CHECK(sum.wait(std::chrono::seconds{30}) == 0);
  CHECK(content(folder / "said").starts_with(made.sha256 + " "));
}

TEST_CASE("the same text twice gives commitments that nobody can see to be the same") {
  const auto one = commit_to("DEMO 42");
  const auto other = commit_to("DEMO 42");
  CHECK(one.salt != other.salt);
  CHECK(one.sha256 != other.sha256);
  CHECK(one.sha256 != sha256_hex("DEMO 42"));
}

}  // namespace
}  // namespace dryclock::seal
