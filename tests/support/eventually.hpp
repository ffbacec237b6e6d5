// Waits for what other threads and processes are about to do.
#pragma once

#include <chrono>
#include <thread>

namespace dryclock::test {

// True as soon as `holds()` is; false when it is not within `cap`.
template <class Condition>
[[nodiscard]] bool eventually(Condition holds, std::chrono::milliseconds cap = std::chrono::seconds{10}) {
  const auto deadline = std::chrono::steady_clock::now() + cap;
  while (!holds()) {
    if (std::chrono::steady_clock::now() >= deadline) {
      return false;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds{5});
  }
  return true;
}

}  // namespace dryclock::test
