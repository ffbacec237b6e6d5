#include "app/sensor_finder.hpp"

#include <algorithm>
#include <set>

#include "ingest/topic_filter.hpp"

namespace dryclock::app {

void SensorFinder::start(Time now, int seconds) {
  const std::lock_guard lock{mutex_};
  running_ = true;
  started_ = now;
  until_ = now + std::chrono::seconds{seconds};
  topics_.clear();
  left_off_ = 0;
}

void SensorFinder::heard(const RawMessage& message) {
  if (message.topic.starts_with(own_ + "/")) {
    return;
  }
  const std::lock_guard lock{mutex_};
  if (!running_) {
    return;
  }
  const auto known = topics_.find(message.topic);
  if (known == topics_.end() && topics_.size() >= most_topics) {
    ++left_off_;
    return;
  }
  auto& topic = topics_[message.topic];
  topic.count = known == topics_.end() ? 1 : topic.count + 1;
  topic.topic = message.topic;
  topic.payload = message.payload.substr(0, longest_payload);
  topic.at = message.received_at;
  topic.retained = message.retained;
}

bool SensorFinder::ends(Time now) {
  const std::lock_guard lock{mutex_};
  if (!running_ || now < *until_) {
    return false;
  }
  running_ = false;
  return true;
}

SensorSearch SensorFinder::view(const std::vector<SensorMapping>& mappings) const {
  SensorSearch out;
  std::vector<ingest::HeardTopic> free;
  {
    const std::lock_guard lock{mutex_};
    out.running = running_;
    out.started = started_;
    out.until = until_;
    out.left_off = left_off_;
    for (const auto& [name, topic] : topics_) {
      const bool taken = std::ranges::any_of(mappings, [&named = name](const SensorMapping& mapping) {
        return ingest::matches(mapping.topic, named);
      });
      out.topics.push_back(
          {name, topic.payload, topic.count, topic.retained, taken ? TopicKind::taken : TopicKind::other});
      if (!taken) {
        free.push_back(topic);
      }
    }
  }
  auto proposals = ingest::propose(free);
  std::size_t next = 0;
  for (auto& topic : out.topics) {
    if (topic.kind != TopicKind::taken) {
      topic.kind = proposals.kinds[next++];
    }
  }
  out.sensors = std::move(proposals.sensors);
  return out;
}

}  // namespace dryclock::app
