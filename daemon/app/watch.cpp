#include "app/watch.hpp"

#include <fmt/format.h>

#include "base/log.hpp"
#include "store/space.hpp"

namespace dryclock::app {
namespace {

constexpr std::int64_t low_bytes = 256LL * 1024 * 1024;
constexpr double low_years = 0.25;

}  // namespace

void Watch::look_at_disk(const store::Reader& reader) {
  const auto extent = reader.extent();
  const auto space = extent ? store::measure_space(database_, *extent) : Result<store::Space>{extent.error()};
  if (!space) {
    log::warning("disk: {}", to_string(space.error()));
    return;
  }
  const bool low = space->free_bytes < low_bytes || space->years_left.value_or(100.0) < low_years;
  if (low) {
    core_.raise(AlertRule::disk_low, "disk",
                fmt::format("{} MB are free on the disk with the journal", space->free_bytes / 1'000'000),
                "Free some room: a full disk keeps readings waiting at the broker, and then they are lost.");
  } else {
    core_.clear(AlertRule::disk_low, "disk");
  }
}

void Watch::store_health(const store::StoreHealth& health) {
  if (health.failing || health.ballast_spent) {
    log::error("store: {}", health.text);
    core_.raise(
        AlertRule::store_failing, "journal", health.text,
        "Free room on the disk, or look at the box under the bench: readings wait at the broker meanwhile.");
  } else {
    core_.clear(AlertRule::store_failing, "journal");
  }
}

void Watch::broker_dropped(std::uint64_t total) {
  if (dropped_ && total > *dropped_) {
    core_.raise(AlertRule::broker_dropping, "broker",
                fmt::format("The broker has dropped {} messages since it was last asked", total - *dropped_),
                "Raise max_queued_messages in the broker's settings (deploy/mosquitto), and look whether a "
                "sensor floods it.");
  }
  dropped_ = total;
}

}  // namespace dryclock::app
