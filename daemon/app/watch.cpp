#include "app/watch.hpp"

#include <cmath>

#include "base/log.hpp"
#include "store/space.hpp"

namespace dryclock::app {
namespace {

constexpr std::int64_t low_bytes = 256LL * 1024 * 1024;
constexpr double low_years = 0.25;
constexpr std::chrono::days recent_days{7};
constexpr std::chrono::minutes sent_late{5};  // by less than this, devices that send late agree with us

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
                {"alerts.disk-low",
                 {say::number("free", Measure::storage,
                              std::floor(static_cast<double>(space->free_bytes) / 1e6) * 1e6)}});
  } else {
    core_.clear(AlertRule::disk_low, "disk");
  }
}

void Watch::store_health(const store::StoreHealth& health) {
  if (health.failing || health.ballast_spent) {
    log::error("store: {}", health.text);
    core_.raise(AlertRule::store_failing, "journal",
                {"alerts.store-failing", {say::text("problem", health.text)}});
  } else {
    core_.clear(AlertRule::store_failing, "journal");
  }
}

void Watch::seal_health(const std::optional<Problem>& wrong) {
  seal_wrong_ = wrong;
  if (wrong) {
    core_.raise(AlertRule::seal_failing, "seal",
                {"alerts.seal-failing", {say::text("problem", to_string(*wrong))}});
  } else {
    core_.clear(AlertRule::seal_failing, "seal");
  }
}

void Watch::stamp_health(const std::optional<Problem>& wrong) {
  if (wrong) {
    core_.raise(AlertRule::seal_failing, "time-stamp",
                {"alerts.stamp-failing", {say::text("problem", to_string(*wrong))}},
                Fact{"advice.stamp-failing"});
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
                {"alerts.sensor-drift",
                 {say::text("bay", pair.one.bay), say::text("one", pair.one.sensor),
                  say::text("other", pair.other.sensor), say::humidity_change("change", change),
                  say::count("weeks", found->weeks), say::humidity_change("then", found->then_pct),
                  say::humidity_change("now", found->now_pct)}});
  } else if (std::abs(change) < 0.7 * store::drift_pct) {
    core_.clear(AlertRule::sensor_drift, subject);
  }
}

void Watch::device_times_apart(Millis later) {
  using std::chrono::minutes;
  if (std::chrono::abs(later) <= sent_late) {
    core_.clear(AlertRule::clock_doubtful, "clock");
    return;
  }
  core_.raise(AlertRule::clock_doubtful, "clock",
              {"alerts.clock-doubtful",
               {say::span("by", std::chrono::round<minutes>(std::chrono::abs(later))),
                say::text("way", later > Millis{0} ? "later" : "earlier")}});
}

void Watch::broker_dropped(std::uint64_t total) {
  if (dropped_ && total > *dropped_) {
    core_.raise(AlertRule::broker_dropping, "broker",
                {"alerts.broker-dropping", {say::count("messages", total - *dropped_)}});
  }
  dropped_ = total;
}

}  // namespace dryclock::app
