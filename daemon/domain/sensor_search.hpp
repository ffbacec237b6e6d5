// What a search of the broker's topics has heard, and how it could be set up.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "domain/event.hpp"

namespace dryclock {

struct ProposedSensor {
  std::string name;  // from its topic; no two are alike
  std::vector<SensorRead> reads;
  std::vector<std::string> samples;  // of each read, as it was sent
  std::vector<std::string> guesses;  // sentences
};

enum class TopicKind : std::uint8_t {
  readings,      // something in it is proposed
  availability,  // it says that a device is there or not
  other,
  taken  // a sensor that is set up reads it
};
inline constexpr std::array<std::string_view, 4> topic_kind_words{"readings", "availability", "other",
                                                                  "taken"};

struct FoundTopic {
  std::string topic, payload;  // the last one, its beginning
  int count = 1;
  bool retained = false;
  TopicKind kind = TopicKind::other;
};

struct SensorSearch {
  bool running = false;
  std::optional<Time> started, until;  // absent: there was none since the start
  std::vector<FoundTopic> topics;      // in order of their names
  std::uint64_t left_off = 0;          // messages on further topics: more than are remembered
  std::vector<ProposedSensor> sensors;
};

}  // namespace dryclock
