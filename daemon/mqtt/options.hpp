// How to meet the broker.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>

#include "base/time.hpp"

namespace dryclock::mqtt {

struct Options {
  std::string host = "127.0.0.1";
  std::uint16_t port = 1883;
  std::string client_id = "dryclock";  // fixed: the broker keeps what came while the daemon was away
  std::string base = "dryclock";       // everything published is below it
  std::string user;                    // empty: none
  std::filesystem::path password_file;
  bool tls = false;               // with a check of the host's name
  std::filesystem::path ca_file;  // empty: the system's authorities
  Millis keep_alive{60'000};      // at least 60 s: a callback may wait for the disk
};

// A message beyond this is not taken from the broker at all (MQTT 5, Maximum Packet Size): it bounds memory.
inline constexpr std::size_t packet_limit = 4 * 1024 * 1024;

// Where a broker of the common kind counts what it had to drop.
inline constexpr const char* dropped_topic = "$SYS/broker/publish/messages/dropped";

}  // namespace dryclock::mqtt
