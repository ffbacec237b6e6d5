#include "seal/streams.hpp"

#include <fmt/core.h>

#include "base/sha256.hpp"
#include "domain/shown.hpp"
#include "domain/vehicle_of.hpp"

namespace dryclock::seal {
namespace {

constexpr std::size_t id_digits = 16;

}  // namespace

std::string topic_stream(std::string_view topic) {
  return fmt::format("topic {}", topic);
}

std::string vehicle_stream(VehicleId vehicle) {
  return fmt::format("vehicle {}", vehicle);
}

std::string daemon_stream() {
  return "daemon";
}

// 0: of no vehicle.
VehicleId Streams::vehicle_of(const JournalRow& row) const {
  const auto detail = read_(row);
  if (!detail) {
    return 0;
  }
  return dryclock::vehicle_of(*detail, row.seq, [this](Seq event) {
    const auto known = vehicle_of_event_.find(event);
    return known == vehicle_of_event_.end() ? VehicleId{0} : known->second;
  });
}

std::string Streams::stream_of(const JournalRow& row) {
  if (row.kind == RowKind::message) {
    return topic_stream(row.message.topic);
  }
  if (row.kind == RowKind::shown || row.kind == RowKind::announced || row.kind == RowKind::learnt) {
    const auto vehicle = shown_vehicle(row.message.topic);
    return vehicle == 0 ? daemon_stream() : vehicle_stream(vehicle);
  }
  if (row.kind != RowKind::event) {
    return daemon_stream();
  }
  const auto vehicle = vehicle_of(row);
  vehicle_of_event_[row.seq] = vehicle;
  return vehicle == 0 ? daemon_stream() : vehicle_stream(vehicle);
}

std::string stream_id(std::string_view salt, std::string_view stream) {
  return sha256_hex(std::string{salt}.append(stream)).substr(0, id_digits);
}

}  // namespace dryclock::seal
