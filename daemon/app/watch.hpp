// What the daemon watches about itself: the disk's room, the broker's losses, the database's health. Each
// finding is an alert that says what to do.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>

#include "app/core.hpp"
#include "domain/space.hpp"
#include "history/dates.hpp"
#include "store/humidity_drift.hpp"
#include "store/reader.hpp"
#include "store/writer.hpp"

namespace dryclock::app {

class Watch {
 public:
  Watch(Core& core, std::filesystem::path database) : core_(core), database_(std::move(database)) {}

  // `seal_bytes`: of the sealed files.
  void look_at_disk(const store::Reader& reader, const history::Dates& dates, std::int64_t seal_bytes);
  [[nodiscard]] const std::optional<Space>& space() const { return space_; }  // when it was last looked at
  void store_health(const store::StoreHealth& health);
  // Absent: sealed, and stamped, again.
  void seal_health(const std::optional<Problem>& wrong);
  [[nodiscard]] const std::optional<Problem>& seal_wrong() const { return seal_wrong_; }
  void stamp_health(const std::optional<Problem>& wrong);
  // How two humidity sensors of a bay part over weeks, where that is known.
  void drift(const store::SensorPair& pair, const std::optional<store::Drift>& found);
  // How much later the time is that devices tell than the machine's, for which nobody vouches; 0: somebody
  // does.
  void device_times_apart(Millis later);
  // The broker's own count of messages that it had to drop for us or others.
  void broker_dropped(std::uint64_t total);

 private:
  Core& core_;
  std::filesystem::path database_;
  std::optional<std::uint64_t> dropped_;
  std::optional<Space> space_;
  std::optional<Problem> seal_wrong_;
};

}  // namespace dryclock::app
