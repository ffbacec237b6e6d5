#include "app/watch.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/log.hpp"
#include "base/plain_words.hpp"
#include "store/space.hpp"

namespace dryclock::app {
namespace {

constexpr std::int64_t low_bytes = 256LL * 1024 * 1024;
constexpr double low_years = 0.25;
constexpr std::chrono::days recent_days{7};
constexpr std::chrono::minutes told_apart{5};  // by less than this, devices that send late agree with us

// What the last days added: an installation grows, and sensors are added.
Result<store::Extent> recent_part(const store::Reader& reader, const history::Dates& dates,
                                  store::Extent journal) {
  if (journal.last == 0) {
    return journal;
  }
  const auto first = dates.first_at_or_after(reader, journal.last_at - recent_days);
  if (!first) {
    return first.error();
  }
  const auto found = reader.stamp(*first);
  if (!found) {
    return found.error();
  }
  if (*found) {
    journal.first = *first;
    journal.first_at = dates.of(**found);
  }
  return journal;
}

}  // namespace

void Watch::look_at_disk(const store::Reader& reader, const history::Dates& dates, std::int64_t seal_bytes) {
  const auto extent = dates.extent(reader);
  const auto recent = extent ? recent_part(reader, dates, *extent) : extent;
  const auto space = recent ? store::measure_space(database_, extent.value(), recent.value(), seal_bytes)
                            : Result<Space>{recent.error()};
  if (!space) {
    log::warning("disk: {}", to_string(space.error()));
    return;
  }
  space_ = space.value();
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

void Watch::seal_health(const std::optional<Problem>& wrong) {
  seal_wrong_ = wrong;
  if (wrong) {
    core_.raise(
        AlertRule::seal_failing, "seal", "Nothing is sealed now: " + to_string(*wrong),
        "Readings are kept all the same, but a record of these hours cannot be proved. Free room on the "
        "disk, or put the folders seal and keys back from the same back-up as the database; it is tried "
        "again every minute.");
  } else {
    core_.clear(AlertRule::seal_failing, "seal");
  }
}

void Watch::stamp_health(const std::optional<Problem>& wrong) {
  if (wrong) {
    core_.raise(
        AlertRule::seal_failing, "time-stamp", "No time stamp was given: " + to_string(*wrong),
        "The seal itself goes on, and the next checkpoint is tried again. Look at the connection, and at "
        "time_stamp_url in the settings.");
  } else {
    core_.clear(AlertRule::seal_failing, "time-stamp");
  }
}

void Watch::drift(const store::SensorPair& pair, const std::optional<store::Drift>& found) {
  const auto subject = store::drift_subject(pair);
  if (!found) {
    return;  // nothing new is known: what is open stays open
  }
  if (const double change = found->now_pct - found->then_pct; std::abs(change) > store::drift_pct) {
    core_.raise(AlertRule::sensor_drift, subject,
                fmt::format("In {} sensor {} has drifted against {}: by {:+.1f} %RH within {} weeks, from "
                            "{:+.1f} to {:+.1f}.",
                            pair.one.bay, pair.one.sensor, pair.other.sensor, change, found->weeks,
                            found->then_pct, found->now_pct),
                "One of the two changes, and the difference does not say which: check both against a salt.");
  } else if (std::abs(change) < 0.7 * store::drift_pct) {
    core_.clear(AlertRule::sensor_drift, subject);
  }
}

void Watch::told_time_apart(Millis later) {
  using std::chrono::minutes;
  if (std::chrono::abs(later) <= told_apart) {
    core_.clear(AlertRule::clock_doubtful, "clock");
    return;
  }
  core_.raise(
      AlertRule::clock_doubtful, "clock",
      fmt::format("The time that the sensors tell is {} {} than this machine's, and nobody vouches for "
                  "the machine's clock.",
                  span(std::chrono::round<minutes>(std::chrono::abs(later))),
                  later > Millis{0} ? "later" : "earlier"),
      "Check the machine's clock, or connect it to a time server. If that is right, check the time zone "
      "that the sensors, or their gateway, are set to.");
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
