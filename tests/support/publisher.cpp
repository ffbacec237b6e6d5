#include "support/publisher.hpp"

#include <mqtt/client.h>

namespace dryclock::test {

struct Publisher::State {
  mqtt::client client;
};

Publisher::Publisher(std::uint16_t port, const std::string& client_id)
    : state_(new State{mqtt::client("tcp://127.0.0.1:" + std::to_string(port), client_id)}) {
  state_->client.connect();
}

Publisher::~Publisher() {
  try {
    state_->client.disconnect();
  } catch (const mqtt::exception&) {  // the broker was stopped before
  }
}

void Publisher::publish(const std::string& topic, const std::string& payload, int qos, bool retained) {
  state_->client.publish(mqtt::make_message(topic, payload, qos, retained));
}

}  // namespace dryclock::test
