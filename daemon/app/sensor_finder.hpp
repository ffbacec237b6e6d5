// A search of the broker's topics for sensors that could be set up: bounded in time and memory, and never
// journalled. heard() comes on the broker's thread, the rest on the core thread; a mutex holds what they
// share, for a busy broker must not fill the core's queue.
#pragma once

#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "domain/sensor_search.hpp"
#include "domain/types.hpp"
#include "ingest/propose.hpp"

namespace dryclock::app {

class SensorFinder {
 public:
  static constexpr std::size_t most_topics = 400;
  static constexpr std::size_t longest_payload = 4096;  // bytes; more is cut, and then hardly a sensor's

  // `own`: the first levels of what this daemon publishes itself.
  explicit SensorFinder(std::string own) : own_(std::move(own)) {}

  void start(Time now, int seconds);
  void heard(const RawMessage& message);
  // Whether a search has just come to its end; it then has ended.
  [[nodiscard]] bool ends(Time now);

  // Topics that `mappings` read are not proposed again.
  [[nodiscard]] SensorSearch view(const std::vector<SensorMapping>& mappings) const;

 private:
  std::string own_;
  mutable std::mutex mutex_;
  bool running_ = false;
  std::optional<Time> started_, until_;
  std::map<std::string, ingest::HeardTopic> topics_;
  std::uint64_t left_off_ = 0;
};

}  // namespace dryclock::app
