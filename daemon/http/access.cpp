#include "http/access.hpp"

#include <openssl/crypto.h>

#include "base/sha256.hpp"

namespace dryclock::http {

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
