// What a request must pass before any route sees it: a well-formed head, a host that is ours, an origin that
// is our own page, a token where one is needed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "http/access.hpp"
#include "http/message.hpp"
#include "http/target.hpp"

namespace dryclock::http {

// Faults of a head's text that the parser lets pass: folded lines, bare CR, LF or NUL, bytes outside ASCII in
// the request line. `head` ends with its empty line.
[[nodiscard]] std::optional<Problem> fault_of_head(std::string_view head);

class Guard {
 public:
  // `hosts`: names by which the server may be called, besides loopback's and the address called.
  Guard(const std::vector<std::string>& hosts, Access access);

  // Other tokens from now on.
  void let_in(Access access) { access_.tokens = std::move(access.tokens); }
  // The answer that ends the request, or nothing where it may go on. `target` is the request's, taken apart.
  [[nodiscard]] std::optional<Response> stop(const Request& request, const Target& target,
                                             WrongTokens::Instant now);
  // Whether the request's device may enter events: one with a read-only token may only look. For a request
  // that stop() let pass.
  [[nodiscard]] bool may_write(const Request& request) const;
  // GET /pair?token=...: a cookie for the token, so that the page's live updates carry it.
  [[nodiscard]] Response pair(const Request& request, const Target& target, WrongTokens::Instant now);

 private:
  [[nodiscard]] bool needs_no_token(const Request& request) const;
  [[nodiscard]] bool is_our_host(std::string_view host, const Request& request) const;
  [[nodiscard]] std::optional<Response> stop_for_token(const Request& request, WrongTokens::Instant now);

  std::vector<std::string> hosts_;
  Access access_;
  WrongTokens wrong_;
};

}  // namespace dryclock::http
