#include "app/startup.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "base/log.hpp"
#include "base/version.hpp"
#include "engine/superseded.hpp"
#include "ingest/decode.hpp"
#include "seal/sha256.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::app {
namespace {

constexpr Millis settings_cap{60'000};
constexpr std::chrono::hours lead{26};  // before the oldest vehicle's arrival

// When the oldest vehicle arrived that no release followed, or the oldest coupon was laid that is still being
// weighed at `now`; absent: there is neither. What was taken back is neither.
std::optional<Time> oldest_needed(const std::vector<JournalRow>& events, Time now) {
  std::map<VehicleId, Time> here;
  std::vector<engine::Correction> corrections;
  std::map<Seq, VehicleId> releases;  // what ends a stay, and which
  for (const JournalRow& row : events) {
    const auto event = ingest::decode(row, {}).event;
    if (!event) {
      continue;
    }
    if (std::holds_alternative<VehicleIn>(event->detail)) {
      here[row.seq] = std::min(event->at, row.message.received_at);
    } else if (std::holds_alternative<CouponLaid>(event->detail) && now - event->at < longest_coupon) {
      here[row.seq] = event->at;
    } else if (const auto* measured = std::get_if<FilmMeasured>(&event->detail)) {
      releases[row.seq] = measured->coupon.value_or(0);
    } else if (const auto* released = std::get_if<Released>(&event->detail)) {
      releases[row.seq] = released->vehicle;
    } else if (const auto* gone = std::get_if<Superseded>(&event->detail)) {
      corrections.emplace_back(row.seq, gone->event);
    }
  }
  const auto superseded = engine::superseded_by(corrections);
  std::erase_if(here, [&](const auto& entry) { return superseded.contains(entry.first); });
  for (const auto& [seq, vehicle] : releases) {
    if (!superseded.contains(seq)) {
      here.erase(vehicle);
    }
  }
  const auto oldest = std::ranges::min_element(here, {}, [](const auto& entry) { return entry.second; });
  return oldest == here.end() ? std::nullopt : std::optional{oldest->second};
}

}  // namespace

store::Session this_session(Time now) {
  store::Session session;
  std::ifstream{"/proc/sys/kernel/random/boot_id"} >> session.boot_id;
  session.version = version;
  session.clock_state =
      std::filesystem::exists("/run/systemd/timesync/synchronized") ? "synchronized" : "unknown";
  session.started = now;
  return session;
}

Result<void> tell_settings(const Setup& setup, Time now, store::Writer& writer, const store::Reader& reader) {
  const auto told = reader.rows_of(RowKind::configured);
  const auto extent = reader.extent();
  if (!told || !extent) {
    return !told ? told.error() : extent.error();
  }
  Configured configured{version, seal::sha256_hex(wire::to_json(setup)), false, {}, setup};
  if (!told->empty()) {
    const auto newest = wire::read_configured(told->back().message.payload);
    if (newest && newest->program == configured.program &&
        newest->settings_sha256 == configured.settings_sha256) {
      return {};
    }
  } else if (extent->last > 0) {
    auto refused = reader.refused();
    if (!refused) {
      return refused.error();
    }
    configured.assumed = true;
    configured.refused = std::move(*refused);
  }
  store::Entry entry{RowKind::configured, {}, {}};
  entry.message.payload = wire::to_json(configured);
  entry.message.received_at = now;
  const auto appended = writer.append(std::move(entry), settings_cap);
  if (!appended) {
    return appended.error();
  }
  log::info("settings: told in row {}{}", appended->seq,
            configured.assumed ? ", and assumed for the rows before it" : "");
  return {};
}

Core offline_core(ClockSource clock, std::function<void(Effects)> commit) {
  return Core(clock, Publisher{{}, QuietTimes{{}, LocalZone::find("UTC").value()}, false},
              {.commit = std::move(commit),
               .append = [](store::Entry, const store::AppendDone&) {},
               .look_ahead = [](OutlookTask) {},
               .keeps_personal = [](VehicleId) { return false; },
               .board_changed = [] {}});
}

Result<Replayed> replay_journal(Core& core, const store::Reader& reader) {
  auto events = reader.rows_of(RowKind::event);
  const auto settings = reader.rows_of(RowKind::configured);
  const auto extent = reader.extent();
  const auto applied = reader.applied();
  if (!events || !settings || !extent || !applied) {
    return !events     ? events.error()
           : !settings ? settings.error()
           : !extent   ? extent.error()
                       : applied.error();
  }
  if (!settings->empty()) {
    const auto first = ingest::decode(settings->front(), {}).configured;
    if (first && first->assumed) {
      core.assume(*first);
    }
  }
  const auto arrival = oldest_needed(events.value(), extent.value().last_at);
  const Time from = (arrival ? *arrival : extent.value().last_at) - lead;
  const auto first = reader.first_seq_at_or_after(from);
  if (!first) {
    return first.error();
  }
  // A row that was never committed is never skipped.
  const Seq window = std::min(first.value(), applied.value() + 1);
  auto open = reader.alerts_open_at(from);
  if (!open) {
    return open.error();
  }
  core.seed(std::move(*open));

  Replayed done{extent.value().last, 0, 0};
  auto& early = events.value();
  const auto middle = early.insert(early.end(), settings->begin(), settings->end());
  std::ranges::inplace_merge(early, middle, {}, &JournalRow::seq);
  for (const JournalRow& row : early) {
    if (row.seq < window) {
      core.replay(row);
      ++done.rows;
    }
  }
  const auto walked = reader.walk(window, extent.value().last, [&](JournalRow row) {
    ++done.rows;
    if (row.seq <= applied.value()) {
      core.replay(std::move(row));
    } else {
      ++done.recovered;
      core.take(std::move(row));
    }
    return true;
  });
  if (!walked) {
    return walked.error();
  }
  auto still_open = reader.alerts_open_at(Time::max());
  if (!still_open) {
    return still_open.error();
  }
  std::erase_if(*still_open, [](const AlertSummary& alert) { return engine::follows_from_rows(alert.rule); });
  core.seed(std::move(*still_open));
  return done;
}

}  // namespace dryclock::app
