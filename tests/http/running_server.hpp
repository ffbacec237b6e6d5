// A server over an invented shop, on its own thread and a free port, for as long as the object lives.
#pragma once

#include <functional>
#include <memory>

#include "http/fake_shop.hpp"
#include "http/server.hpp"

namespace dryclock::test {

class RunningServer {
 public:
  explicit RunningServer(http::Options options = {});
  ~RunningServer();
  RunningServer(const RunningServer&) = delete;
  RunningServer& operator=(const RunningServer&) = delete;

  [[nodiscard]] std::uint16_t port() const;
  // On the server's thread, waited for.
  void on_core(const std::function<void(fake::Shop&, http::Server&)>& work);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::test
