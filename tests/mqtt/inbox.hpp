// Where a test's client puts what it receives.
#pragma once

#include <algorithm>
#include <mutex>
#include <string>
#include <vector>

#include "domain/types.hpp"
#include "mqtt/client.hpp"

namespace dryclock::mqtt {

class Inbox {
 public:
  bool take(const RawMessage& message) {
    const std::lock_guard lock(mutex_);
    messages_.push_back(message);
    return true;
  }
  [[nodiscard]] std::vector<RawMessage> messages() const {
    const std::lock_guard lock(mutex_);
    return messages_;
  }
  [[nodiscard]] std::size_t count() const { return messages().size(); }
  [[nodiscard]] bool has(const std::string& payload) const {
    const auto all = messages();
    return std::any_of(all.begin(), all.end(),
                       [&](const auto& message) { return message.payload == payload; });
  }

  [[nodiscard]] Hooks hooks() {
    return {.now = [] { return from_unix_ms(1'772'366'400'000); },
            .sink = [this](const RawMessage& message) { return take(message); },
            .connection_changed = {}};
  }

 private:
  mutable std::mutex mutex_;
  std::vector<RawMessage> messages_;
};

}  // namespace dryclock::mqtt
