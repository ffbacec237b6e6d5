// What a search of the broker's topics has heard, and how it could be set up.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "domain/event_fields.hpp"
#include "domain/fact.hpp"

namespace dryclock {

struct ProposedRead {
  SensorRead read;
  std::string sample;  // as it was sent
};
void visit_fields(auto& f, Of<ProposedRead> auto& s) {
  f.type("ProposedRead", "a quantity that a topic seems to tell");
  f.flat(s.read);
  f("sample", s.sample, "as it was sent");
}

struct ProposedSensor {
  std::string name;  // from its topic; no two are alike
  std::vector<ProposedRead> reads;
  std::vector<Fact> guesses;
};
void visit_fields(auto& f, Of<ProposedSensor> auto& s) {
  f.type("ProposedSensor", "how what was heard could be set up");
  f("name", s.name);
  f("reads", s.reads);
  f("guesses", s.guesses);
}

enum class TopicKind : std::uint8_t {
  readings,      // something in it is proposed
  availability,  // it says that a device is there or not
  other,
  taken  // a sensor that is set up reads it
};
struct FoundTopic {
  std::string topic, payload;  // the last one, its beginning
  int count = 1;
  bool retained = false;
  TopicKind kind = TopicKind::other;
};
void visit_fields(auto& f, Of<FoundTopic> auto& s) {
  f.type("FoundTopic", "a topic that something came on");
  f("topic", s.topic);
  f("payload", s.payload, "the last one, its beginning");
  f("count", s.count, AtLeast{1});
  f("retained", s.retained);
  f("kind", s.kind);
}

struct SensorSearch {
  bool running = false;
  std::optional<Time> started, until;  // absent: there was none since the start
  std::vector<FoundTopic> topics;      // in order of their names
  std::uint64_t left_off = 0;          // messages on further topics: more than are remembered
  std::vector<ProposedSensor> sensors;
};
void visit_fields(auto& f, Of<SensorSearch> auto& s) {
  f.type("SensorSearch", "what the last search has heard");
  f("running", s.running);
  f("started", s.started, "null: there was none since the start");
  f("until", s.until);
  f("left_off", s.left_off, "messages on more topics than are remembered");
  f("topics", s.topics);
  f("sensors", s.sensors);
}

}  // namespace dryclock
