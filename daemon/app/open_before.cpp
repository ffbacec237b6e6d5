#include "app/open_before.hpp"

#include <algorithm>
#include <map>
#include <string>

#include "engine/air_hours.hpp"
#include "engine/engine.hpp"
#include "ingest/decode.hpp"

namespace dryclock::app {
namespace {

// What is told of a row, silence for one, comes a moment after it.
constexpr std::chrono::minutes after_the_row{1};

struct Span {
  Time from, to;
  Millis by;  // to the time that is right

  [[nodiscard]] bool holds(Time t) const { return t >= from && t <= to; }
};

// When rows were taken to have come before a `redated` row after `after` told it otherwise.
Result<std::vector<Span>> wrong_times(const store::Reader& reader, Seq after) {
  const auto rows = reader.rows_of(RowKind::redated);
  if (!rows) {
    return rows.error();
  }
  std::vector<Span> out;
  std::map<std::string, std::vector<Time>> booted;  // as told so far, by boot
  for (const JournalRow& row : *rows) {
    const auto redated = ingest::decode(row, {}).redated;
    if (!redated) {
      continue;
    }
    auto& before = booted[redated->boot];
    if (redated->first != 0 && row.seq > after) {
      const auto first = reader.stamp(redated->first);
      const auto last = reader.stamp(redated->last);
      if (!first || !last) {
        return !first ? first.error() : last.error();
      }
      if (*first && *last) {
        const auto add = [&](Time from, Time to) {
          out.push_back({from, to + after_the_row, redated->booted + (*first)->boot_time - from});
        };
        add((*first)->received_at, (*last)->received_at);
        for (const Time begin : before) {
          add(begin + (*first)->boot_time, begin + (*last)->boot_time);
        }
      }
    }
    before.push_back(redated->booted);
  }
  return out;
}

}  // namespace

Result<std::vector<AlertSummary>> open_before(const store::Reader& reader, Time from) {
  auto open = reader.alerts_open_at(from);
  const auto wrong = wrong_times(reader, 0);
  if (!open || !wrong) {
    return !open ? open.error() : wrong.error();
  }
  std::erase_if(*open, [&](const AlertSummary& alert) {
    return engine::follows_from_rows(alert.rule) &&
           std::ranges::any_of(*wrong, [&](const Span& span) { return span.holds(alert.raised); });
  });
  return open;
}

Result<std::vector<AirHour>> air_before(const store::Reader& reader, Time from, Seq after) {
  auto hours = reader.air_hours(from - engine::air_needed);
  const auto wrong = wrong_times(reader, after);
  if (!hours || !wrong) {
    return !hours ? hours.error() : wrong.error();
  }
  std::erase_if(*hours, [&](const AirHour& hour) {
    return std::ranges::any_of(*wrong, [&](const Span& span) {
      return hour.until >= span.from && hour.until <= span.to - after_the_row + store::air_hour_beyond;
    });
  });
  return hours;
}

Result<std::vector<MovedAlert>> moved_alerts(const store::Reader& reader, Seq after,
                                             const std::vector<AlertSummary>& open) {
  const auto wrong = wrong_times(reader, after);
  if (!wrong) {
    return wrong.error();
  }
  std::vector<MovedAlert> out;
  for (const AlertSummary& alert : open) {
    const auto span = std::ranges::find_if(*wrong, [&](const Span& one) { return one.holds(alert.raised); });
    if (span == wrong->end() || span->by == Millis{0} || engine::follows_from_rows(alert.rule)) {
      continue;
    }
    out.push_back({alert, alert});
    out.back().is.raised += span->by;
    if (auto& seen = out.back().is.acknowledged) {
      *seen += span->by;
    }
  }
  return out;
}

}  // namespace dryclock::app
