#include "history/dates.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "history/boots.hpp"

namespace dryclock::history {
namespace {

// A message that was labelled under the wrong clock may reach the journal a moment after the row that says
// so.
constexpr std::chrono::minutes still_queued{1};

// By which clock was it told, the daemon's that was wrong or the person's? By the one that makes it the more
// recent, and not to come.
void move_with_its_row(Event& event, Time label) {
  const Millis by_the_person = event.entered - event.at;
  const Millis by_the_daemon = label - event.at;
  if (by_the_person < Millis{0} || (by_the_daemon >= Millis{0} && by_the_daemon < by_the_person)) {
    event.at += event.entered - label;
  }
}

// The times that messages carry as the daemon's time, so that a recorded night plays at any speed: the row's
// time of receipt is the newest that it or any row before it has told.
Decoded decode_in_message_time(JournalRow& row, const ingest::Mappings& mappings, Time now) {
  Time& received = row.message.received_at;
  received = now;
  Decoded decoded = ingest::decode(row, mappings);
  for (const Reading& reading : decoded.readings) {
    received = reading.source_time ? std::max(received, reading.at) : received;
  }
  if (decoded.event) {
    received = std::max(received, decoded.event->at);
    decoded.event->entered = received;
  }
  return decoded;
}

}  // namespace

Result<Dates> Dates::read(const store::Reader& reader, bool by_messages) {
  const auto sessions = reader.sessions();
  const auto rows = reader.rows_of(RowKind::redated);
  if (!sessions || !rows) {
    return !sessions ? sessions.error() : rows.error();
  }
  Dates out;
  out.by_messages_ = by_messages;
  for (const auto& session : *sessions) {
    out.boots_[session.id] = session.boot;
  }
  for (const JournalRow& row : *rows) {
    if (const auto redated = ingest::decode(row, {}).redated) {
      const bool same = out.boots_[row.session] == redated->boot;
      out.redatings_[redated->boot].push_back(
          {redated->booted, same ? std::optional<Millis>{row.boot_time + still_queued} : std::nullopt});
    }
  }
  return out;
}

Time Dates::of(const store::Stamp& stamp) const {
  const auto boot = boots_.find(stamp.session);
  const auto found = boot == boots_.end() ? redatings_.end() : redatings_.find(boot->second);
  if (found == redatings_.end()) {
    return stamp.received_at;
  }
  const auto counts = std::find_if(found->second.rbegin(), found->second.rend(), [&](const Redating& one) {
    return !one.until || stamp.boot_time <= *one.until;
  });
  if (counts == found->second.rend()) {
    return stamp.received_at;
  }
  const Time right = counts->booted + stamp.boot_time;
  return std::chrono::abs(right - stamp.received_at) > clock_slack ? right : stamp.received_at;
}

std::vector<Time> Dates::begins_of(const std::string& boot) const {
  std::vector<Time> out;
  if (const auto found = redatings_.find(boot); found != redatings_.end()) {
    std::ranges::transform(found->second, std::back_inserter(out), &Redating::booted);
  }
  return out;
}

Decoded Dates::decode(JournalRow& row, const ingest::Mappings& mappings, Time now) const {
  if (by_messages_) {
    return decode_in_message_time(row, mappings, now);
  }
  const Time label = row.message.received_at;
  row.message.received_at = of({row.kind, label, row.boot_time, row.session});
  Decoded out = ingest::decode(row, mappings);
  if (out.event) {
    move_with_its_row(*out.event, label);
  }
  if (out.announced) {
    out.announced->at += row.message.received_at - label;
  }
  if (out.learnt) {
    out.learnt->at += row.message.received_at - label;
  }
  return out;
}

Result<store::Extent> Dates::extent(const store::Reader& reader) const {
  auto extent = reader.extent();
  if (!extent) {
    return extent;
  }
  for (auto [seq, at] : {std::pair{extent->first, &extent->first_at}, {extent->last, &extent->last_at}}) {
    const auto stamp = reader.stamp(seq);
    if (!stamp) {
      return stamp.error();
    }
    if (*stamp) {
      *at = of(**stamp);
    }
  }
  return extent;
}

Result<Seq> Dates::first_at_or_after(const store::Reader& reader, Time at) const {
  const auto extent = reader.extent();
  if (!extent) {
    return extent.error();
  }
  Seq from = 1;
  Seq to = by_messages_ ? 0 : extent->last;
  while (from <= to) {
    const Seq middle = from + (to - from) / 2;
    const auto stamp = reader.stamp(middle);
    if (!stamp) {
      return stamp.error();
    }
    if (*stamp && of(**stamp) >= at) {
      to = middle - 1;
    } else {
      from = middle + 1;
    }
  }
  return from;
}

}  // namespace dryclock::history
