#include "http/access.hpp"

#include <openssl/crypto.h>
#include <openssl/sha.h>

#include <array>

namespace dryclock::http {

std::string sha256_hex(std::string_view text) {
  std::array<unsigned char, SHA256_DIGEST_LENGTH> digest{};
  const std::string bytes{text};
  SHA256(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(), digest.data());
  std::string hex;
  for (const unsigned byte : digest) {
    hex += "0123456789abcdef"[byte >> 4U];
    hex += "0123456789abcdef"[byte & 15U];
  }
  return hex;
}

Grant grant_of(const Access& access, std::string_view token) {
  const std::string given = sha256_hex(token);
  Grant grant = Grant::none;
  // No early leave: how long it takes must not tell which token was nearly right.
  for (const Token& known : access.tokens) {
    if (known.sha256.size() == given.size() &&
        CRYPTO_memcmp(known.sha256.data(), given.data(), given.size()) == 0) {
      grant = known.read_only ? Grant::read : Grant::write;
    }
  }
  return grant;
}

bool WrongTokens::refused(const std::string& address, Instant now) {
  forget_old(now);
  const auto found = tallies_.find(address);
  return found != tallies_.end() && found->second.wrong >= limit;
}

void WrongTokens::count(const std::string& address, Instant now) {
  forget_old(now);
  auto& tally = tallies_.try_emplace(address, Tally{0, now}).first->second;
  ++tally.wrong;
}

void WrongTokens::forget_old(Instant now) {
  std::erase_if(tallies_, [&](const auto& entry) { return now - entry.second.first >= window; });
}

}  // namespace dryclock::http
