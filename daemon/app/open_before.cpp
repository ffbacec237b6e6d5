#include "app/open_before.hpp"

#include <algorithm>
#include <map>
#include <string>

#include "engine/engine.hpp"
#include "ingest/decode.hpp"

namespace dryclock::app {
namespace {

// What is told of a row, silence for one, comes a moment after it.
constexpr std::chrono::minutes after_the_row{1};

struct Span {
  Time from, to;
};

// When rows were taken to have come before a `redated` row told it otherwise.
Result<std::vector<Span>> wrong_times(const store::Reader& reader) {
  const auto rows = reader.rows_of(RowKind::redated);
  if (!rows) {
    return rows.error();
  }
  std::vector<Span> out;
  std::map<std::string, std::vector<Time>> booted;  // as told so far, by boot
  for (const JournalRow& row : *rows) {
    const auto told = ingest::decode(row, {}).redated;
    if (!told) {
      continue;
    }
    auto& before = booted[told->boot];
    if (told->first != 0) {
      const auto first = reader.stamp(told->first);
      const auto last = reader.stamp(told->last);
      if (!first || !last) {
        return !first ? first.error() : last.error();
      }
      if (*first && *last) {
        out.push_back({(*first)->received_at, (*last)->received_at + after_the_row});
        for (const Time begin : before) {
          out.push_back({begin + (*first)->boot_time, begin + (*last)->boot_time + after_the_row});
        }
      }
    }
    before.push_back(told->booted);
  }
  return out;
}

}  // namespace

Result<std::vector<AlertSummary>> open_before(const store::Reader& reader, Time from) {
  auto open = reader.alerts_open_at(from);
  const auto wrong = wrong_times(reader);
  if (!open || !wrong) {
    return !open ? open.error() : wrong.error();
  }
  std::erase_if(*open, [&](const AlertSummary& alert) {
    return engine::follows_from_rows(alert.rule) && std::ranges::any_of(*wrong, [&](const Span& span) {
             return alert.raised >= span.from && alert.raised <= span.to;
           });
  });
  return open;
}

}  // namespace dryclock::app
