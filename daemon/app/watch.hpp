// What the daemon watches about itself: the disk's room, the broker's losses, the database's health. Each
// finding is an alert that says what to do.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>

#include "app/core.hpp"
#include "store/reader.hpp"
#include "store/writer.hpp"

namespace dryclock::app {

class Watch {
 public:
  Watch(Core& core, std::filesystem::path database) : core_(core), database_(std::move(database)) {}

  void look_at_disk(const store::Reader& reader);
  void store_health(const store::StoreHealth& health);
  // The broker's own count of messages that it had to drop for us or others.
  void broker_dropped(std::uint64_t total);

 private:
  Core& core_;
  std::filesystem::path database_;
  std::optional<std::uint64_t> dropped_;
};

}  // namespace dryclock::app
