#include "play/publisher.hpp"

#include <mqtt/async_client.h>

#include <chrono>
#include <deque>
#include <stdexcept>
#include <thread>
#include <utility>

namespace dryclock::play {
namespace {

using namespace std::chrono_literals;
using Steady = std::chrono::steady_clock;

constexpr auto broker_may_stay_away = 30s;
constexpr auto retry_pause = 200ms;
constexpr auto answer_limit = 5s;

struct Waiting {
  std::string topic;
  std::string payload;
  mqtt::delivery_token_ptr token;  // null: not with the broker
};

}  // namespace

struct Publisher::State {
  std::string broker, client_id;
  std::unique_ptr<mqtt::async_client> client;
  std::deque<Waiting> waiting;  // in the order they were published
  std::size_t published = 0, acknowledged = 0, sent_again = 0;

  void connect();
  void send(Waiting& message) { message.token = client->publish(message.topic, message.payload, 1, false); }
  [[nodiscard]] bool front_is_acknowledged();
  void settle_front();
};

// A new client each time: the library's own buffer of a broken session would deliver a second copy.
void Publisher::State::connect() {
  for (const auto deadline = Steady::now() + broker_may_stay_away;;) {
    try {
      client = std::make_unique<mqtt::async_client>(broker, client_id);
      client->connect(mqtt::connect_options_builder().clean_session(true).finalize())->wait_for(answer_limit);
      if (client->is_connected()) {
        return;
      }
    } catch (const mqtt::exception&) {
      // Not there (yet): tried again below.
    }
    if (Steady::now() > deadline) {
      throw std::runtime_error("no broker at " + broker);
    }
    std::this_thread::sleep_for(retry_pause);
  }
}

bool Publisher::State::front_is_acknowledged() {
  const auto& token = waiting.front().token;
  try {
    return token && token->wait_for(answer_limit);
  } catch (const mqtt::exception&) {
    return false;
  }
}

// Waits for the oldest message. The broker takes messages in order, so where one is missing, all behind it
// are sent again too: their order is what the daemon sees.
void Publisher::State::settle_front() {
  while (!front_is_acknowledged()) {
    connect();
    try {
      for (Waiting& message : waiting) {
        sent_again += message.token ? 1U : 0U;
        send(message);
      }
    } catch (const mqtt::exception&) {
      // Lost again: those without a token, and those whose token fails, come round once more.
    }
  }
  waiting.pop_front();
  ++acknowledged;
}

Publisher::Publisher(std::string broker, std::string client_id) : state_(std::make_unique<State>()) {
  state_->broker = std::move(broker);
  state_->client_id = std::move(client_id);
  state_->connect();
}

Publisher::~Publisher() {
  try {
    state_->client->disconnect()->wait_for(answer_limit);
  } catch (const mqtt::exception&) {
    // The broker went first.
  }
}

void Publisher::publish(std::string topic, std::string payload) {
  auto& waiting = state_->waiting;
  waiting.push_back({std::move(topic), std::move(payload), nullptr});
  ++state_->published;
  try {
    // Behind one that could not be sent, this one must wait for its turn.
    if (waiting.size() == 1 || waiting[waiting.size() - 2].token) {
      state_->send(waiting.back());
    }
  } catch (const mqtt::exception&) {
    // Offline: settle_front() sends it.
  }
  while (waiting.size() >= window) {
    state_->settle_front();
  }
}

void Publisher::finish() {
  while (!state_->waiting.empty()) {
    state_->settle_front();
  }
}

std::size_t Publisher::published() const {
  return state_->published;
}

std::size_t Publisher::acknowledged() const {
  return state_->acknowledged;
}

std::size_t Publisher::sent_again() const {
  return state_->sent_again;
}

}  // namespace dryclock::play
