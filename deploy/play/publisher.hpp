// Publishes with QoS 1, in order, and stays until the broker has acknowledged every message, through losses
// of the connection and restarts of the broker.
#pragma once

#include <cstddef>
#include <memory>
#include <string>

namespace dryclock::play {

class Publisher {
 public:
  // `broker` as "tcp://127.0.0.1:1883". Waits for the broker; throws std::runtime_error where it stays away
  // for 30 s, here and below.
  Publisher(std::string broker, std::string client_id);
  ~Publisher();

  // Returns once fewer than `window` messages wait for their acknowledgement.
  void publish(std::string topic, std::string payload);
  // Returns once none waits.
  void finish();

  [[nodiscard]] std::size_t published() const;
  [[nodiscard]] std::size_t acknowledged() const;
  // Sent a second time, because the first one's acknowledgement was lost with the connection: the broker
  // may hold these twice.
  [[nodiscard]] std::size_t sent_again() const;

  static constexpr std::size_t window = 20;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::play
