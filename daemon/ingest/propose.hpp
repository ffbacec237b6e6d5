// From what devices send to how they could be set up: which values look like temperature or humidity, by
// their names, and in which unit, by their size. Every guess is said, for a person decides.
#pragma once

#include <string>
#include <vector>

#include "domain/sensor_search.hpp"
#include "domain/types.hpp"

namespace dryclock::ingest {

// The last message on a topic.
struct HeardTopic {
  std::string topic, payload;
  Time at;
  int count = 1;
  bool retained = false;
};

struct Proposals {
  std::vector<ProposedSensor> sensors;
  std::vector<TopicKind> kinds;  // of each topic, in their order
};

[[nodiscard]] Proposals propose(const std::vector<HeardTopic>& heard);

}  // namespace dryclock::ingest
