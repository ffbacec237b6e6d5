// Which stream a journal row is sealed in. Streams are what can be shown or withheld by itself: an MQTT
// topic, the events of one vehicle with what was announced, learnt and shown of it, and the daemon's own rows
// with the events of no vehicle.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "domain/event.hpp"
#include "domain/types.hpp"

namespace dryclock::seal {

[[nodiscard]] std::string topic_stream(std::string_view topic);
[[nodiscard]] std::string vehicle_stream(VehicleId vehicle);
[[nodiscard]] std::string daemon_stream();

// An event row's content; absent where it cannot be read.
using ReadEvent = std::function<std::optional<EventDetail>(const JournalRow&)>;

// Rows must come in journal order, events from the first on; the same row again changes nothing.
class Streams {
 public:
  explicit Streams(ReadEvent read) : read_(std::move(read)) {}
  [[nodiscard]] std::string stream_of(const JournalRow& row);

 private:
  [[nodiscard]] VehicleId vehicle_of(const JournalRow& row) const;
  ReadEvent read_;
  std::map<Seq, VehicleId> vehicle_of_event_;
};

// What stands in a segment's name: 16 hexadecimal digits of SHA-256 over the installation's salt and the
// stream's name. The salt is not given away, so that nobody can find out what a withheld segment is of by
// trying names.
[[nodiscard]] std::string stream_id(std::string_view salt, std::string_view stream);

}  // namespace dryclock::seal
