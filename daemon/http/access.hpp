// Who may ask: tokens, and a brake on those who guess them.
#pragma once

#include <chrono>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace dryclock::http {

struct Token {
  std::string sha256;      // of the token's characters, 64 hexadecimal digits: the token itself is not kept
  bool read_only = false;  // for a wall screen
};

// Who comes from this machine needs no token unless `require_token` (http.require_token in the settings: a
// reverse proxy makes everybody come from this machine); who comes over the network always does.
struct Access {
  bool require_token = false;
  std::vector<Token> tokens;
};

enum class Grant : std::uint8_t { none, read, write };

// What a token grants; `none` where it is unknown. Takes as long for a near miss as for a far one.
[[nodiscard]] Grant grant_of(const Access& access, std::string_view token);

// Counts wrong tokens by the address they came from. Beyond the limit an address is refused, right or wrong,
// until the window has passed.
class WrongTokens {
 public:
  using Instant = std::chrono::steady_clock::time_point;
  static constexpr int limit = 5;
  static constexpr std::chrono::seconds window{60};

  [[nodiscard]] bool refused(const std::string& address, Instant now);
  void count(const std::string& address, Instant now);

 private:
  struct Tally {
    int wrong = 0;
    Instant first;
  };
  void forget_old(Instant now);
  std::map<std::string, Tally> tallies_;
};

}  // namespace dryclock::http
