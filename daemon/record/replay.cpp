#include "record/replay.hpp"

#include <algorithm>

#include "domain/milestones.hpp"
#include "domain/shown.hpp"
#include "ingest/decode.hpp"

namespace dryclock::record {
namespace {

// The air at the release is known when readings stand on either side of it; a vehicle stays on the board,
// where the engine can still be asked about it, for a day.
constexpr std::chrono::minutes after_release{10};
constexpr std::chrono::hours longest_wait{23};

}  // namespace

Replay::Replay(const Origin& origin, const history::Journal& journal, VehicleId vehicle,
               std::vector<history::RecordedEvent>& events)
    : origin_(origin), journal_(journal), vehicle_(vehicle), events_(events), engine_(Setup{}) {
  if (journal.assumed) {
    engine_.assume(*journal.assumed);
  }
  for (const auto& one : journal.events) {
    if (history::of_the_shop(one)) {
      of_the_shop_.insert(one.row.seq);
    }
  }
  for (auto& one : events_) {
    own_[one.row.seq] = &one;
    if (!one.superseded && asked_by(one.event.detail)) {
      moments_.push_back({one.event.at, one.row.seq});
    }
  }
  std::stable_sort(moments_.begin(), moments_.end(),
                   [](const Moment& a, const Moment& b) { return a.at > b.at; });
  if (const auto* release = release_in(events_)) {
    released_ = release->event.at;
    release_event_ = release->row.seq;
  }
}

// Settings and sensors as they were when the first row came.
Result<void> Replay::tell_the_shop(const store::Reader& reader, Seq first) {
  const auto stamp = reader.stamp(first);
  if (!stamp) {
    return stamp.error();
  }
  for (JournalRow& row : journal_.before(first, history::of_the_shop)) {
    if (*stamp) {
      const Decoded decoded = journal_.dates.decode(row, {}, row.message.received_at);
      row.message.received_at = journal_.dates.of(**stamp);
      (void)engine_.apply(row, decoded);
    }
  }
  note_mappings(first);
  return {};
}

void Replay::note_mappings(Seq from) {
  for (const auto& mapping : engine_.mappings()) {
    const auto last = std::find_if(read_as_.rbegin(), read_as_.rend(), [&](const ReadAs& known) {
      return known.mapping.sensor == mapping.sensor && known.mapping.quantity == mapping.quantity;
    });
    if (last == read_as_.rend() || !(last->mapping == mapping)) {
      read_as_.push_back({from, mapping});
    }
  }
}

Result<void> Replay::run(const store::Reader& reader, Seq first) {
  if (auto shop = tell_the_shop(reader, first); !shop) {
    return shop;
  }
  auto walked = reader.walk(first, journal_.extent.last, [this](JournalRow row) {
    if (complete()) {
      return false;
    }
    journal_.recall(row);
    apply(std::move(row));
    return true;
  });
  if (!walked) {
    return walked;
  }
  while (!moments_.empty() && moments_.back().at <= now_) {
    look_at(moments_.back());
    moments_.pop_back();
  }
  if (!at_end_known_) {
    look_at_end();
  }
  tell_the_rest();
  return {};
}

void Replay::apply(JournalRow row) {
  if (row.kind == RowKind::shown) {  // as in the daemon: not even time passes with it
    last_row_ = std::max(last_row_, row.seq);
    return;
  }
  const Decoded decoded = journal_.dates.decode(row, engine_.mappings(), now_);
  const Time received = std::max(now_, row.message.received_at);
  if (received == Time{}) {
    if (decoded.configured) {
      engine_.assume(*decoded.configured);
      note_mappings(row.seq);
    }
    return;  // no message has told the time yet
  }
  while (!moments_.empty() && moments_.back().at <= received) {
    look_at(moments_.back());
    moments_.pop_back();
  }
  now_ = received;
  if (row.kind == RowKind::announced && shown_vehicle(row.message.topic) != vehicle_) {
    return;
  }
  // A vehicle that has left keeps the settings that it left with.
  if (row.kind == RowKind::configured && !held_.empty()) {
    return;
  }
  if (row.kind == RowKind::event) {
    const auto own = own_.find(row.seq);
    if (own == own_.end()) {
      if (of_the_shop_.contains(row.seq)) {
        (void)engine_.apply(row, decoded);
        note_mappings(row.seq);
      }
      return;
    }
    own->second->event = *decoded.event;
    // The engine lets old air go once a vehicle has been released: what ends it is told last. A
    // release that was taken back ends nothing.
    const bool release = std::holds_alternative<Released>(decoded.event->detail);
    if (release && own->second->superseded) {
      return;
    }
    if (release || !held_.empty()) {
      held_.emplace_back(std::move(row), decoded);
      return;
    }
  }
  apply(row, decoded);
}

void Replay::apply(const JournalRow& row, const Decoded& decoded) {
  const Effects effects = engine_.apply(row, decoded);
  last_row_ = std::max(last_row_, row.seq);
  for (const auto& screened : effects.readings) {
    readings_.push_back({screened, row.message.received_at});
    topics_.emplace(screened.reading.bay, row.message.topic);
  }
  for (const auto& reject : effects.rejects) {
    rejects_.push_back({row.seq, row.message.received_at, row.message.topic, reject.reject});
  }
  for (const auto& gap : effects.gaps) {
    gaps_.insert_or_assign({gap.bay, gap.from}, gap);
  }
  note_announcements(row, decoded, effects);
  if (row.kind == RowKind::configured) {
    note_mappings(row.seq);
  } else if (row.kind == RowKind::started) {
    starts_.push_back({row.seq, row.message.received_at, row.message.payload});
  }
}

void Replay::note_announcements(const JournalRow& row, const Decoded& decoded, const Effects& effects) {
  for (const auto& one : effects.milestones) {
    announcements_.push_back({row.seq, one.at, one.piece, one.which, one.word,
                              one.by_word ? std::nullopt : std::optional{one.probability}, one.by_word});
  }
  for (const auto& one : effects.releases) {
    SaidThen said{row.seq, one.at, 0, models::Milestone::may_leave, one.word, {}, false};
    if (decoded.announced) {
      const auto& all = decoded.announced->announcements;
      const auto told = std::ranges::find(all, 0, &Announcement::piece);
      said.probability = told == all.end() ? std::nullopt : std::optional{told->probability};
    }
    announcements_.push_back(said);
  }
}

void Replay::advance(Time to) {
  for (const auto& gap : engine_.advance(to).gaps) {
    gaps_.insert_or_assign({gap.bay, gap.from}, gap);
  }
}

// What the page would have shown at that moment: the rows received until then, and time until
// then.
void Replay::look_at(Moment moment) {
  if (moment.event == release_event_) {
    now_ = std::max(now_, moment.at);
    look_at_end();
    then_[moment.event] = at_end_;
    return;
  }
  advance(std::max(now_, moment.at));
  ask_outlook(false);
  if (auto seen = summary()) {
    then_[moment.event] = std::move(*seen);
  }
}

// What it would announce is left out: rows tell what was.
void Replay::ask_outlook(bool with_forecast) {
  if (!origin_.look_ahead) {
    return;
  }
  for (auto& task : engine_.outlook_tasks()) {
    if (!with_forecast) {
      task.forecast.clear();
    }
    (void)engine_.apply(origin_.look_ahead(std::move(task)));
  }
}

void Replay::look_at_end() {
  advance(now_);
  ask_outlook(true);
  at_end_ = summary().value_or(VehicleSummary{});
  learned_ = engine_.learned();
  known_ = engine_.belief();
  at_end_known_ = true;
}

std::optional<VehicleSummary> Replay::summary() const {
  return engine_.vehicle(vehicle_);
}

// Whether the vehicle has been released and every piece is known up to then.
bool Replay::complete() {
  if (!released_ || held_.empty() || now_ < *released_ + after_release) {
    return false;
  }
  if (now_ >= *released_ + longest_wait) {
    return true;
  }
  if (now_ < looked_ + after_release) {
    return false;
  }
  looked_ = now_;
  const auto seen = summary();
  return !seen || std::ranges::all_of(seen->pieces, [&](const PieceSummary& piece) {
    return piece.removed || piece.replaced_by || piece.as_of >= *released_ + std::chrono::minutes{1};
  });
}

// The release, and what was told after it: late entries, corrections, rechecks. They are
// applied at the moment where the replay stopped, so that no air is forgotten before the
// pieces' history is asked for.
void Replay::tell_the_rest() {
  for (auto& [row, decoded] : held_) {
    row.message.received_at = now_;
    apply(row, decoded);
  }
  const Seq applied = last_row_;
  for (auto& one : events_) {
    const bool void_release = one.superseded && std::holds_alternative<Released>(one.event.detail);
    if (one.row.seq <= applied || void_release) {
      continue;
    }
    JournalRow row = one.row;
    const Decoded decoded = journal_.dates.decode(row, {}, now_);
    one.event = *decoded.event;
    row.message.received_at = now_;
    apply(row, decoded);
  }
}

std::vector<GapRow> Replay::gaps() const {
  std::vector<GapRow> out;
  for (const auto& [key, gap] : gaps_) {
    out.push_back(gap);
  }
  return out;
}

}  // namespace dryclock::record
