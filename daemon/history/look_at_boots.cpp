#include "history/look_at_boots.hpp"

#include <algorithm>
#include <map>

namespace dryclock::history {
namespace {

using Rows = std::vector<JournalRow>;

// Rows between two places at which the clock may have changed: a start, or a step that was seen.
struct Part {
  Seq first = 0, last = 0;
  std::int64_t session = 0;
};

// What of it is of later sessions; absent: nothing is. Sessions follow each other.
Result<std::optional<Part>> later_part(const store::Reader& reader, const Part& part) {
  auto last = reader.stamp(part.last);
  if (!last) {
    return last.error();
  }
  if (!*last || (*last)->session == part.session) {
    return std::optional<Part>{};
  }
  Part later{part.last, part.last, (*last)->session};
  for (Seq from = part.first; from < later.first;) {
    const Seq middle = from + (later.first - from) / 2;
    const auto stamp = reader.stamp(middle);
    if (!stamp) {
      return stamp.error();
    }
    if (*stamp && (*stamp)->session != part.session) {
      later.first = middle;
      later.session = (*stamp)->session;
    } else {
      from = middle + 1;
    }
  }
  return std::optional{later};
}

// Each start of the program is a session, also one that ended before it could tell of itself.
Result<std::vector<Part>> parts_of(const store::Reader& reader, const Rows& steps,
                                   const store::Extent& extent) {
  std::vector<Part> parts;
  const auto first = reader.stamp(extent.first);
  if (!first) {
    return first.error();
  }
  if (!*first) {
    return parts;
  }
  parts.push_back({extent.first, extent.last, (*first)->session});
  while (true) {
    const auto later = later_part(reader, parts.back());
    if (!later) {
      return later.error();
    }
    if (!*later) {
      break;
    }
    parts.back().last = (*later)->first - 1;
    parts.push_back({(*later)->first, extent.last, (*later)->session});
  }
  for (const JournalRow& step : steps) {
    parts.push_back({step.seq, extent.last, step.session});
  }
  std::ranges::sort(parts, {}, &Part::first);
  for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
    parts[i].last = parts[i + 1].first - 1;
  }
  std::erase_if(parts, [](const Part& part) { return part.last < part.first; });
  return parts;
}

// No crystal is off by more of its time; a time server puts it right by small steps, which add up.
constexpr std::int64_t drift_share = 1000;

// From its first to its last row; two where the clock was moved between them, of which no row speaks.
Result<std::vector<Stretch>> stretches_of(const store::Reader& reader, const Dates& dates, const Part& part) {
  std::vector<Stretch> out;
  for (const Seq seq : {part.first, part.last}) {
    const auto stamp = reader.stamp(seq);
    if (!stamp) {
      return stamp.error();
    }
    if (!*stamp) {
      continue;
    }
    const Millis now = (*stamp)->boot_time;
    const Time booted = dates.of(**stamp) - now;
    if (out.empty() ||
        std::chrono::abs(booted - out.back().booted) > clock_slack + (now - out.back().first) / drift_share) {
      out.push_back({booted, now, now, seq, seq});
    } else {
      out.back().last = now;
      out.back().last_row = seq;
      out.back().ended = booted;
    }
  }
  return out;
}

// Why an earlier look gave a boot its time holds for as long as the boot lasts.
void remember(const Redated& row, std::vector<Boot>& boots) {
  for (Boot& boot : boots) {
    if (boot.id != row.boot) {
      continue;
    }
    boot.trusted = boot.trusted || row.why == ClockFault::stepped;
    if (row.why == ClockFault::by_devices) {
      boot.by_devices = row.booted;
    }
  }
}

}  // namespace

Result<Judged> look_at_boots(const store::Reader& reader, const Dates& dates, const ClockNow& now) {
  const auto sessions = reader.sessions();
  const auto steps = reader.rows_of(RowKind::clock_step);
  const auto redated = reader.rows_of(RowKind::redated);
  const auto extent = reader.extent();
  if (!sessions || !steps || !redated || !extent) {
    return !sessions  ? sessions.error()
           : !steps   ? steps.error()
           : !redated ? redated.error()
                      : extent.error();
  }
  const auto parts = parts_of(reader, *steps, *extent);
  if (!parts) {
    return parts.error();
  }
  std::map<std::int64_t, store::SessionRow> by_id;
  for (const auto& session : *sessions) {
    by_id[session.id] = session;
  }
  std::vector<Boot> boots;
  const auto boot_of = [&](std::int64_t session) -> Boot& {
    const auto& row = by_id[session];
    if (boots.empty() || boots.back().id != row.boot) {
      boots.push_back({row.boot, {}, false});
    }
    boots.back().trusted =
        boots.back().trusted || row.clock_state == "synchronized" || row.clock_state == "kept";
    return boots.back();
  };
  for (const Part& part : *parts) {
    auto stretches = stretches_of(reader, dates, part);
    if (!stretches) {
      return stretches.error();
    }
    Boot& boot = boot_of(part.session);
    boot.stretches.insert(boot.stretches.end(), stretches->begin(), stretches->end());
  }
  Boot& running = boot_of(now.session);
  running.stretches.push_back({now.booted, now.boot_time, now.boot_time, 0, 0});
  running.trusted = running.trusted || now.trusted;
  for (const JournalRow& row : *redated) {
    if (const auto read = ingest::decode(row, {}).redated) {
      remember(*read, boots);
    }
  }
  for (const JournalRow& step : *steps) {
    for (Boot& boot : boots) {
      boot.trusted = boot.trusted || boot.id == by_id[step.session].boot;
    }
  }
  if (now.by_devices) {
    boots.back().by_devices = now.by_devices;
  }
  return judge(boots);
}

}  // namespace dryclock::history
