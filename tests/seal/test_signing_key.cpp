#include <doctest/doctest.h>

#include "base/base64.hpp"
#include "seal/signing_key.hpp"

namespace dryclock::seal {
namespace {

std::string from_hex(std::string_view hex) {
  std::string bytes;
  for (std::size_t i = 0; i < hex.size(); i += 2) {
    bytes += static_cast<char>(std::stoi(std::string{hex.substr(i, 2)}, nullptr, 16));
  }
  return bytes;
}

// RFC 8410: SubjectPublicKeyInfo with the algorithm 1.3.101.112, then the 32 bytes.
std::string pem_of(std::string_view raw_hex) {
  return "-----BEGIN PUBLIC KEY-----\n" + base64(from_hex("302a300506032b6570032100") + from_hex(raw_hex)) +
         "\n-----END PUBLIC KEY-----\n";
}

TEST_CASE("the test vector with an empty message holds, and no other (RFC 8032, 7.1, test 1)") {
  const auto pem = pem_of("d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a");
  auto signature = from_hex(
      "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5"
      "f0595b"
      "be24655141438e7a100b");
  CHECK(signature_holds(pem, "", signature));
  CHECK(!signature_holds(pem, "x", signature));
  signature[10] = static_cast<char>(signature[10] ^ 1);
  CHECK(!signature_holds(pem, "", signature));
}

TEST_CASE(
    "a key comes back from its PEM and signs the same (RFC 8032, 5.1.6, signatures are deterministic)") {
  const auto key = SigningKey::generate();
  const auto again = SigningKey::from_pem(key.private_pem());
  CHECK(key.sign("rows") == again.sign("rows"));
  CHECK(key.public_pem() == again.public_pem());
  CHECK(signature_holds(key.public_pem(), "rows", again.sign("rows")));
  CHECK(!signature_holds(SigningKey::generate().public_pem(), "rows", key.sign("rows")));
}

TEST_CASE("what is no key and no signature holds nothing") {
  CHECK_THROWS_AS((void)SigningKey::from_pem("no key"), std::runtime_error);
  const auto key = SigningKey::generate();
  CHECK_THROWS_AS((void)SigningKey::from_pem(key.public_pem()), std::runtime_error);
  CHECK(!signature_holds("no key", "rows", key.sign("rows")));
  CHECK(!signature_holds(key.public_pem(), "rows", ""));
  CHECK(!signature_holds(key.public_pem(), "rows", key.sign("rows") + "x"));
}

TEST_CASE("a wiped secret is gone") {
  std::string secret = "secret";
  wipe(secret);
  CHECK(secret.empty());
}

}  // namespace
}  // namespace dryclock::seal
