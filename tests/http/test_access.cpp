#include <doctest/doctest.h>

#include "base/sha256.hpp"
#include "http/access.hpp"

namespace dryclock::http {
namespace {

constexpr WrongTokens::Instant start{};

}  // namespace

TEST_CASE("a token grants what its entry says") {
  const Access access{true, {{sha256_hex("phone"), false}, {sha256_hex("wall"), true}}};
  CHECK(grant_of(access, "phone") == Grant::write);
  CHECK(grant_of(access, "wall") == Grant::read);
  CHECK(grant_of(access, "phonE") == Grant::none);
  CHECK(grant_of(access, "") == Grant::none);
  CHECK(grant_of(access, sha256_hex("phone")) == Grant::none);  // the hash is not the token
  CHECK(grant_of({true, {{"short", false}}}, "short") == Grant::none);
}

TEST_CASE("wrong tokens are braked by address, for a window") {
  WrongTokens wrong;
  for (int i = 0; i < WrongTokens::limit; ++i) {
    CHECK_FALSE(wrong.refused("10.0.0.9", start));
    wrong.count("10.0.0.9", start);
  }
  CHECK(wrong.refused("10.0.0.9", start + std::chrono::seconds{59}));
  CHECK_FALSE(wrong.refused("10.0.0.8", start));
  CHECK_FALSE(wrong.refused("10.0.0.9", start + WrongTokens::window));
}

}  // namespace dryclock::http
