#include "base/base64.hpp"

#include <doctest/doctest.h>

namespace dryclock {

TEST_CASE("base64 as the standard's examples print it (RFC 4648, 10)") {
  CHECK(base64("").empty());
  CHECK(base64("f") == "Zg==");
  CHECK(base64("fo") == "Zm8=");
  CHECK(base64("foo") == "Zm9v");
  CHECK(base64("foob") == "Zm9vYg==");
  CHECK(base64("fooba") == "Zm9vYmE=");
  CHECK(base64("foobar") == "Zm9vYmFy");
}

// RFC 4648, tables 1 and 2: 62 and 63 are "+" and "/", or "-" and "_".
TEST_CASE("base64 for addresses has other letters and no padding (RFC 4648, 5)") {
  CHECK(base64("\xfb\xff") == "+/8=");
  CHECK(base64url("\xfb\xff") == "-_8");
  CHECK(base64url("").empty());
  CHECK(base64url("f") == "Zg");
  CHECK(base64url("foobar") == "Zm9vYmFy");
}

}  // namespace dryclock
