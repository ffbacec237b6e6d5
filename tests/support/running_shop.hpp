// The lived-in shop, on a thread and in a folder of its own, for as long as the object lives.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "http/server.hpp"
#include "support/whole_shop.hpp"

namespace dryclock::test {

class RunningShop {
 public:
  // `broker`: its port; 0: there is none. `language`: of the shop, as the settings have it.
  explicit RunningShop(http::Options serving = {}, std::uint16_t broker = 0, std::string language = "en-GB");
  ~RunningShop();
  RunningShop(const RunningShop&) = delete;
  RunningShop& operator=(const RunningShop&) = delete;

  [[nodiscard]] std::uint16_t port() const;
  // On the shop's thread, waited for; throws what `work` throws.
  void on_core(const std::function<void(WholeShop&)>& work);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::test
