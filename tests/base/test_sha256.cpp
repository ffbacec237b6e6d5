#include <doctest/doctest.h>

#include "base/sha256.hpp"

namespace dryclock {

// NIST, Cryptographic Standards and Guidelines, Example Values: SHA-256 (from memory; test_outsider asks
// sha256sum).
TEST_CASE("the digests that the standard's examples print (FIPS 180-4)") {
  CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
}

TEST_CASE("what is a digest's text") {
  CHECK(is_sha256_hex(sha256_hex("x")));
  CHECK(!is_sha256_hex(sha256_hex("x").substr(1)));
  CHECK(!is_sha256_hex(std::string(64, 'A')));
  CHECK(!is_sha256_hex(""));
}

}  // namespace dryclock
