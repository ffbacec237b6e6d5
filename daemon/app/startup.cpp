#include "app/startup.hpp"

#include <sys/timex.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <set>

#include "app/open_before.hpp"
#include "app/voice.hpp"
#include "base/log.hpp"
#include "base/sha256.hpp"
#include "base/version.hpp"
#include "domain/plate_view.hpp"
#include "engine/facts.hpp"
#include "history/journal.hpp"
#include "ingest/decode.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::app {
namespace {

constexpr Millis start_cap{60'000};
constexpr std::chrono::minutes chip_slack{2};

// A vehicle that has just left is needed until its `learnt` row is written. If it is not by then (nothing was
// seen of it, or its bay's sensors never came back), it is let go.
constexpr std::chrono::hours learnt_within{4 * 24};

// Releases after which a `learnt` row was written.
std::set<Seq> learnt_after(const std::vector<JournalRow>& rows) {
  std::set<Seq> releases;
  for (const JournalRow& row : rows) {
    if (const auto learnt = ingest::decode(row, {}).learnt) {
      releases.insert(learnt->release);
    }
  }
  return releases;
}

// When the oldest vehicle arrived that no release followed, or that may still have to be learnt from, or the
// oldest coupon or plate was laid that is still being weighed, pulled or looked at, at `now`; absent: there
// is none. What was taken back is none.
std::optional<Time> oldest_needed(const history::Journal& journal, Time now) {
  const auto learnt = learnt_after(journal.learnt);
  std::map<Seq, Time> here;
  std::map<Seq, std::pair<PlateLaid, std::vector<PlateLook>>> plates;
  for (const history::RecordedEvent& one : journal.events) {
    const Event& event = one.event;
    if (one.superseded) {
      continue;
    }
    if (std::holds_alternative<VehicleIn>(event.detail)) {
      here[event.seq] = std::min(event.at, event.entered);
    } else if ((std::holds_alternative<CouponLaid>(event.detail) ||
                std::holds_alternative<BondCouponLaid>(event.detail)) &&
               now - event.at < longest_coupon) {
      here[event.seq] = event.at;
    } else if (const auto* measured = std::get_if<FilmMeasured>(&event.detail)) {
      here.erase(measured->coupon.value_or(0));
    } else if (const auto* bond = std::get_if<BondMeasured>(&event.detail)) {
      here.erase(bond->coupon.value_or(0));
    } else if (const auto* released = std::get_if<Released>(&event.detail)) {
      if (learnt.contains(event.seq) || now - event.at > learnt_within) {
        here.erase(released->vehicle);
      }
    } else if (const auto* plate = std::get_if<PlateLaid>(&event.detail);
               plate != nullptr && now - event.at < longest_plate) {
      here[event.seq] = event.at;
      plates[event.seq].first = *plate;
    } else if (const auto* seen = std::get_if<PlateSeen>(&event.detail)) {
      plates[seen->plate].second.push_back({event.seq, event.at, seen->zone, seen->sign});
    }
  }
  for (auto& [id, plate] : plates) {
    std::ranges::stable_sort(plate.second, {}, &PlateLook::at);
    if (seen_to_its_end(plate.first, plate.second)) {
      here.erase(id);
    }
  }
  const auto oldest = std::ranges::min_element(here, {}, [](const auto& entry) { return entry.second; });
  return oldest == here.end() ? std::nullopt : std::optional{oldest->second};
}

}  // namespace

store::Session this_session(Time now, const MachineClock& clock) {
  store::Session session;
  std::ifstream{"/proc/sys/kernel/random/boot_id"} >> session.boot_id;
  session.version = version;
  session.clock_state = state_of(clock);
  session.started = now;
  return session;
}

std::string state_of(const MachineClock& clock) {
  return clock.synchronized ? "synchronized" : clock.kept ? "kept" : "unsynchronized";
}

MachineClock machine_clock() {
  timex kernel{};
  const int state = ::adjtimex(&kernel);  // -1: not allowed to ask, so nobody vouches
  const bool synchronized = state >= 0 && state != TIME_ERROR;
  const Time now = SystemClock{}.now();
  std::int64_t chip = 0;  // seconds since 1970; Linux: Documentation/ABI/testing/sysfs-class-rtc, from memory
  std::ifstream file{"/sys/class/rtc/rtc0/since_epoch"};
  const bool kept = file >> chip && std::chrono::abs(now - from_unix_ms(chip * 1000)) < chip_slack;
  return {now - boot_time(), synchronized, kept};
}

Result<history::Judged> judge_clock(const MachineClock& clock, Millis since_boot, bool set_just_now,
                                    std::optional<Time> by_devices, const store::Writer& writer,
                                    const store::Reader& reader) {
  const auto dates = history::Dates::read(reader, false);
  if (!dates) {
    return dates.error();
  }
  return history::look_at_boots(reader, *dates,
                                {writer.session(), clock.booted, since_boot,
                                 clock.synchronized || clock.kept || set_just_now, by_devices});
}

store::Entry entry_of(const Redated& redated, Time now) {
  store::Entry entry{RowKind::redated, {}, {}};
  entry.message.payload = wire::to_json(redated);
  entry.message.received_at = now;
  return entry;
}

Result<history::Judged> tell_time(const MachineClocks& clocks, store::Writer& writer,
                                  const store::Reader& reader) {
  auto judged = judge_clock(clocks.look(), clocks.since_boot(), false, std::nullopt, writer, reader);
  if (!judged) {
    return judged;
  }
  for (const Redated& redated : judged->redated) {
    const auto appended = writer.append(entry_of(redated, judged->booted + clocks.since_boot()), start_cap);
    if (!appended) {
      return appended.error();
    }
    log::warning("clock: {} (row {})", for_log(engine::clock_fact(redated)), appended->seq);
  }
  return judged;
}

Result<void> tell_settings(const Setup& setup, Time now, store::Writer& writer, const store::Reader& reader) {
  const auto written = reader.rows_of(RowKind::configured);
  const auto dates = reader.rows_of(RowKind::redated);
  const auto extent = reader.extent();
  if (!written || !dates || !extent) {
    return !written ? written.error() : !dates ? dates.error() : extent.error();
  }
  Configured configured{version, sha256_hex(wire::to_json(setup)), false, {}, setup};
  if (!written->empty()) {
    const auto newest = wire::read_configured(written->back().message.payload);
    if (newest && newest->program == configured.program &&
        newest->settings_sha256 == configured.settings_sha256) {
      return {};
    }
  } else if (extent->last > static_cast<Seq>(dates->size())) {  // numbers have no holes
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
  const auto appended = writer.append(std::move(entry), start_cap);
  if (!appended) {
    return appended.error();
  }
  log::info("settings: told in row {}{}", appended->seq,
            configured.assumed ? ", and assumed for the rows before it" : "");
  return {};
}

Core offline_core(const Config& config, std::function<void(Effects)> commit) {
  return Core(config.clock, words_for(config), Publisher{{}, QuietTimes{{}, LocalZone::find("UTC").value()}},
              {.commit = std::move(commit),
               .append = [](const store::Entry&, const store::AppendDone&) {},
               .look_ahead = [](const OutlookTask&) {},
               .keeps_personal = [](VehicleId) { return false; },
               .board_changed = [] {},
               .wall_clock = [] { return SystemClock{}.now(); },
               .heard = [](const JournalRow&, const std::vector<Reading>&) {}});
}

Result<Replayed> replay_journal(Core& core, const store::Reader& reader) {
  const auto journal = history::Journal::read(reader, core.by_messages());
  const auto applied = reader.applied();
  const auto open_now = reader.alerts_open_at(Time::max());
  if (!journal || !applied || !open_now) {
    return !journal ? journal.error() : !applied ? applied.error() : open_now.error();
  }
  // While rows are dated anew, what was committed may still be on its way to the tables.
  const Seq committed = std::max(*applied, core.committed());
  core.know_open(*open_now);
  core.begin(journal->dates);
  if (journal->assumed) {
    core.assume(*journal->assumed);
  }
  // A minute less: the timer that publishes comes a little after the rows.
  core.published_until(journal->extent.last_at - std::chrono::minutes{1});
  const auto needed = oldest_needed(*journal, journal->extent.last_at);
  const Time arrived = needed.value_or(journal->extent.last_at);
  const Time from = arrived - history::lead;
  core.whole_since(arrived);
  const auto first = journal->dates.first_at_or_after(reader, from);
  if (!first) {
    return first.error();
  }
  // A row that was never committed is never skipped.
  const Seq window = std::min(*first, committed + 1);
  auto open = open_before(reader, from);
  if (!open) {
    return open.error();
  }
  core.seed(std::move(*open));
  const auto air = air_before(reader, from, committed);
  if (!air) {
    return air.error();
  }
  core.know_air(*air);

  Replayed done{journal->extent.last, 0, 0};
  for (JournalRow& row : journal->before(window, [](const history::RecordedEvent&) { return true; })) {
    core.replay(std::move(row));
    ++done.rows;
  }
  const auto walked = reader.walk(window, done.last, [&](JournalRow row) {
    ++done.rows;
    journal->recall(row);
    if (row.seq <= committed) {
      core.replay(std::move(row));
    } else {
      ++done.recovered;
      core.apply(std::move(row));
    }
    return true;
  });
  if (!walked) {
    return walked.error();
  }
  core.agree();
  const auto moved = moved_alerts(reader, committed, core.known_open());
  if (!moved) {
    return moved.error();
  }
  for (const MovedAlert& alert : *moved) {
    core.move(alert.was, alert.is);
  }
  auto still_open = core.known_open();
  std::erase_if(still_open, [](const AlertSummary& alert) { return engine::follows_from_rows(alert.rule); });
  core.seed(std::move(still_open));
  return done;
}

}  // namespace dryclock::app
