// A sensor, as the broker sees it: publishes and waits for the broker's acknowledgement.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

namespace dryclock::test {

class Publisher {
 public:
  explicit Publisher(std::uint16_t port, const std::string& client_id = "sensor");
  ~Publisher();

  // Returns when the broker has it (QoS 1, 2) or it was sent (QoS 0). Throws what the library throws.
  void publish(const std::string& topic, const std::string& payload, int qos = 1, bool retained = false);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::test
