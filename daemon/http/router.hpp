// The routes: which request is answered by which service. Free of sockets, so that a test can ask it.
#pragma once

#include <span>
#include <string>

#include "http/asset.hpp"
#include "http/guard.hpp"
#include "http/message.hpp"
#include "http/route.hpp"
#include "http/services.hpp"

namespace dryclock::http {

class Router {
 public:
  Router(Services services, Guard guard, std::span<const Asset> assets);
  Router(const Router&) = delete;
  Router& operator=(const Router&) = delete;

  // Answers once: at once, or when the event is on disk. Never throws.
  void handle(const Request& request, WrongTokens::Instant now, const Answer& answer);
  void let_in(Access access) { guard_.let_in(std::move(access)); }
  // What a live reader gets.
  [[nodiscard]] std::string board_json() const;

 private:
  [[nodiscard]] Response access(const Request& request) const;
  [[nodiscard]] Response page(const Request& request, const Target& target, WrongTokens::Instant now);

  Services services_;
  Guard guard_;
  std::span<const Asset> assets_;
  Routes routes_;  // they hold references to the members above
};

}  // namespace dryclock::http
