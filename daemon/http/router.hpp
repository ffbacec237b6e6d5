// The routes: which request is answered by which service. Free of sockets, so that a test can ask it.
#pragma once

#include <span>
#include <string>

#include "http/asset.hpp"
#include "http/guard.hpp"
#include "http/message.hpp"
#include "http/services.hpp"

namespace dryclock::http {

class Router {
 public:
  Router(Services services, Guard guard, std::span<const Asset> assets);

  // Answers once: at once, or when the event is on disk. Never throws.
  void handle(const Request& request, WrongTokens::Instant now, const Answer& answer);
  void let_in(Access access) { guard_.let_in(std::move(access)); }
  // What a live reader gets.
  [[nodiscard]] std::string board_json() const;

 private:
  [[nodiscard]] Response asset(const Request& request, const Asset& asset) const;
  [[nodiscard]] Response find(const Request& request, const Target& target, WrongTokens::Instant now);
  [[nodiscard]] Response find_api(const Target& target) const;
  [[nodiscard]] Response vehicle(const std::string& id) const;
  void rechecks(const Target& target, const Answer& answer) const;
  [[nodiscard]] Response personal(const std::string& id) const;
  [[nodiscard]] Response air(const std::string& bay, const Target& target) const;
  [[nodiscard]] Response history(const std::string& piece) const;
  [[nodiscard]] Response alerts(const Target& target) const;
  [[nodiscard]] Response events(const Target& target) const;
  [[nodiscard]] Response health() const;
  void submit(const Request& request, const Answer& answer) const;
  void record(const Target& target, const Answer& answer) const;
  void past(const Target& target, const Answer& answer) const;
  void test_channel(const std::string& name, const Answer& answer) const;

  Services services_;
  Guard guard_;
  std::span<const Asset> assets_;
};

}  // namespace dryclock::http
