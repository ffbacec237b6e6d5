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

// Rows that a start wrote before it told of itself belong to it.
Result<Seq> first_of_session(const store::Reader& reader, const JournalRow& started) {
  Seq first = started.seq;
  while (first > 1) {
    const auto before = reader.stamp(first - 1);
    if (!before) {
      return before.error();
    }
    if (!*before || (*before)->session != started.session) {
      break;
    }
    --first;
  }
  return first;
}

Result<std::vector<Part>> parts_of(const store::Reader& reader, const Rows& starts, const Rows& steps,
                                   Seq last) {
  std::vector<Part> parts;
  for (const JournalRow& started : starts) {
    const auto first = first_of_session(reader, started);
    if (!first) {
      return first.error();
    }
    parts.push_back({*first, last, started.session});
  }
  for (const JournalRow& step : steps) {
    parts.push_back({step.seq, last, step.session});
  }
  std::ranges::sort(parts, {}, &Part::first);
  for (std::size_t i = 0; i + 1 < parts.size(); ++i) {
    parts[i].last = parts[i + 1].first - 1;
  }
  std::erase_if(parts, [](const Part& part) { return part.last < part.first; });
  return parts;
}

// The two ends of it whose labels are of the daemon's clock, as one stretch each where they differ.
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
    const Time booted = dates.of(**stamp) - (*stamp)->boot_time;
    if (out.empty() || std::chrono::abs(booted - out.back().booted) > clock_slack) {
      out.push_back({booted, (*stamp)->boot_time, (*stamp)->boot_time, seq, seq});
    } else {
      out.back().last = (*stamp)->boot_time;
      out.back().last_row = seq;
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
    if (row.why == ClockFault::told) {
      boot.told = row.booted;
    }
  }
}

}  // namespace

Result<Judged> look_at_boots(const store::Reader& reader, const Dates& dates, const ClockNow& now) {
  const auto sessions = reader.sessions();
  const auto starts = reader.rows_of(RowKind::started);
  const auto steps = reader.rows_of(RowKind::clock_step);
  const auto redated = reader.rows_of(RowKind::redated);
  const auto extent = reader.extent();
  if (!sessions || !starts || !steps || !redated || !extent) {
    return !sessions  ? sessions.error()
           : !starts  ? starts.error()
           : !steps   ? steps.error()
           : !redated ? redated.error()
                      : extent.error();
  }
  const auto parts = parts_of(reader, *starts, *steps, extent->last);
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
    boots.back().trusted = boots.back().trusted || row.clock_state == "synchronized";
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
  if (now.told) {
    boots.back().told = now.told;
  }
  return judge(boots);
}

}  // namespace dryclock::history
