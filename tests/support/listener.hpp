// What a plain subscriber of the broker sees: mosquitto_sub in a process of its own.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "support/process.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::test {

class Listener {
 public:
  // Returns when it is subscribed to `filter`.
  Listener(std::uint16_t port, const std::string& filter);
  // "topic payload" of each message so far.
  [[nodiscard]] std::vector<std::string> lines() const;

 private:
  ScratchFolder folder_;
  Process process_;
};

}  // namespace dryclock::test
