#include "seal/commitment.hpp"

#include <openssl/rand.h>

#include <stdexcept>

#include "base/sha256.hpp"

namespace dryclock::seal {
namespace {

constexpr std::size_t salt_bytes = 32;

}  // namespace

std::string random_bytes() {
  std::string bytes(salt_bytes, '\0');
  if (RAND_bytes(reinterpret_cast<unsigned char*>(bytes.data()), static_cast<int>(bytes.size())) != 1) {
    throw std::runtime_error("no random numbers");
  }
  return bytes;
}

Commitment commit_to(std::string_view text) {
  Commitment made{random_bytes(), {}};
  made.sha256 = sha256_hex(made.salt + std::string{text});
  return made;
}

}  // namespace dryclock::seal
