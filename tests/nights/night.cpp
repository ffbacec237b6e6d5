#include "nights/night.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "compute/outlook.hpp"
#include "domain/names.hpp"
#include "domain/shown.hpp"
#include "ingest/decode.hpp"
#include "support/said.hpp"
#include "wire/announced_json.hpp"
#include "wire/event_json.hpp"
#include "wire/learnt_json.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::nights {

Night::Night(std::string_view start, std::string_view zone, Setup setup)
    : setup_(std::move(setup)),
      zone_(LocalZone::find(zone).value()),
      clock_(zone_.parse(start, Time{}).value()),
      engine_(std::make_unique<engine::Engine>(setup_)) {
  note(engine_->advance(clock_.now()));
}

Time Night::at(std::string_view clock) const {
  if (std::count(clock.begin(), clock.end(), ':') == 2) {
    const auto seconds = std::chrono::seconds{std::stoi(std::string{clock.substr(clock.size() - 2)})};
    return at(clock.substr(0, clock.size() - 3)) + seconds;
  }
  const Time now = clock_.now();
  const bool dated = clock.size() > 5;
  const Time today = zone_.parse(clock, now).value();
  return dated || today >= now ? today : zone_.parse(clock, zone_.next_day_start(now)).value();
}

std::string Night::clock(Time t) const {
  constexpr std::array names{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  const std::chrono::weekday day{std::chrono::floor<std::chrono::days>(t + zone_.offset(t))};
  return std::string{names[day.c_encoding()]} + zone_.date_clock(t).substr(10);
}

std::pair<double, double> Night::air_at(const BayState& bay, Time t) const {
  const double share = t >= bay.to ? 1.0 : seconds_between(bay.from, t) / seconds_between(bay.from, bay.to);
  // Real air is never quite still: a few hundredths up and down.
  const auto beat = t.time_since_epoch() / std::chrono::minutes{1} % 5 - 2;
  const double ripple = bay.frozen ? 0.0 : 0.02 * static_cast<double>(beat);
  return {bay.from_c + (bay.to_c - bay.from_c) * share + ripple,
          bay.from_rh + (bay.to_rh - bay.from_rh) * share + ripple};
}

void Night::air_is(const std::string& bay, double air_c, double rh_pct) {
  auto& state = bays_[bay];
  state.frozen = false;
  state.from_c = state.to_c = air_c;
  state.from_rh = state.to_rh = rh_pct;
  state.from = state.to = clock_.now();
}

void Night::air_drifts(const std::string& bay, double air_c, double rh_pct, Millis over) {
  auto& state = bays_[bay];
  const auto [now_c, now_rh] = air_at(state, clock_.now());
  state.from_c = now_c;
  state.from_rh = now_rh;
  state.to_c = air_c;
  state.to_rh = rh_pct;
  state.from = clock_.now();
  state.to = clock_.now() + over;
}

void Night::sends_every(const std::string& bay, Millis every) {
  auto& state = bays_[bay];
  state.every = every;
  const auto past = clock_.now().time_since_epoch() % every;
  state.next = past == Millis{0} ? clock_.now() : clock_.now() - past + every;
}

void Night::freezes(const std::string& bay) {
  const auto [air_c, rh_pct] = air_at(bays_[bay], clock_.now());
  air_is(bay, air_c, rh_pct);
  bays_[bay].frozen = true;
}

void Night::falls_silent(const std::string& bay) {
  bays_[bay].every = Millis{0};
}

void Night::passes_to(Time t) {
  REQUIRE(t >= clock_.now());
  constexpr Millis minute = std::chrono::minutes{1};
  while (true) {
    // Whatever comes first: a sensor, the next minute, the end.
    Time next = std::min(t, std::chrono::floor<std::chrono::minutes>(clock_.now()) + minute);
    std::string sender;
    for (const auto& [bay, state] : bays_) {
      if (state.every > Millis{0} && state.next <= next && state.next < t &&
          (sender.empty() || state.next < next)) {
        next = state.next;
        sender = bay;
      }
    }
    clock_.set(std::max(clock_.now(), next));
    if (!sender.empty()) {
      auto& state = bays_[sender];
      state.next += state.every;
      const auto [air_c, rh_pct] = air_at(state, clock_.now());
      sends(sender, air_c, rh_pct, sender == "back" ? std::optional<Time>{clock_.now()} : std::nullopt);
    } else {
      note(engine_->advance(clock_.now()));
      answer_outlooks();
      keep_lessons();
      if (clock_.now() >= t) {
        break;
      }
    }
  }
}

void Night::answer_outlooks() {
  if (!answering_) {
    return;
  }
  for (auto& task : engine_->outlook_tasks()) {
    if (!ahead_) {
      task.forecast.clear();
    }
    if (const auto said = engine_->apply(compute::answer(task))) {
      journal(RowKind::announced, shown_topic(said->vehicle), wire::to_json(*said));
    }
  }
}

void Night::keep_lessons() {
  for (const auto& due : keeping_ ? engine_->to_learn(Time{}) : std::vector<Learnt>{}) {
    journal(RowKind::learnt, shown_topic(due.vehicle), wire::to_json(due));
  }
}

void Night::sends(const std::string& bay, double air_c, double rh_pct, std::optional<Time> source_time,
                  bool dup, bool retained) {
  std::string payload = fmt::format(R"({{"t":{},"h":{})", air_c, rh_pct);
  if (source_time) {
    payload += fmt::format(R"(,"at":"{}")", to_rfc3339(*source_time));
  }
  journal(RowKind::message, "bays/" + bay, payload + "}", dup, retained);
}

Effects Night::journal(RowKind kind, std::string topic, std::string payload, bool dup, bool retained) {
  JournalRow row;
  row.seq = static_cast<Seq>(rows_.size()) + 1;
  row.kind = kind;
  row.message = {std::move(topic), std::move(payload), clock_.now(), 1, dup, retained};
  rows_.push_back(row);
  auto effects = engine_->apply(row, ingest::decode(row, engine_->mappings()));
  CHECK(effects.rejects.empty());
  note(effects);
  return effects;
}

Seq Night::does(EventDetail detail, std::string_view happened) {
  Event event;
  event.entered = clock_.now();
  event.at = happened.empty() ? clock_.now() : zone_.parse(happened, clock_.now()).value();
  event.who = "AB";
  event.detail = std::move(detail);
  const auto allowed = engine_->check(event);
  REQUIRE_MESSAGE(allowed.has_value(), (allowed ? "" : allowed.error().what.key));
  engine_->complete(event);
  return journal(RowKind::event, "", wire::to_json(event)).applied;
}

std::string Night::objection(EventDetail detail, std::string_view happened) const {
  Event event;
  event.entered = clock_.now();
  event.at = happened.empty() ? clock_.now() : zone_.parse(happened, clock_.now()).value();
  event.detail = std::move(detail);
  const auto allowed = engine_->check(event);
  return allowed ? "" : allowed.error().where + ": " + support::said(allowed.error().what);
}

VehicleId Night::arrives(const std::string& reference, const std::string& bay, std::optional<double> panel_c,
                         std::string_view hand_over) {
  VehicleIn in;
  in.reference = reference;
  in.bay = bay;
  in.panel_c = panel_c;
  if (!hand_over.empty()) {
    in.hand_over = zone_.parse(hand_over, clock_.now()).value();
  }
  return does(in);
}

PieceId Night::lays(VehicleId vehicle, const std::string& panel, std::string_view happened,
                    std::optional<PieceId> replaces) {
  Lay lay;
  lay.vehicle = vehicle;
  lay.panel = panel;
  lay.replaces = replaces;
  const PieceId piece = does(lay, happened);
  panels_[piece] = panel;
  return piece;
}

void Night::settings_are(Setup setup) {
  setup_ = std::move(setup);
  journal(RowKind::configured, "", wire::to_json(Configured{"test", "", false, {}, setup_}));
}

void Night::clock_steps_to(std::string_view clock, const std::string& by) {
  const Time to = at(clock);
  for (auto& [bay, state] : bays_) {
    if (state.every > Millis{0}) {
      state.next = to + state.every;
    }
  }
  clock_.set(to);
  journal(RowKind::clock_step, "", by);
}

PieceSummary Night::piece(PieceId id) const {
  for (const auto& vehicle : board().vehicles) {
    for (const auto& piece : vehicle.pieces) {
      if (piece.id == id) {
        return piece;
      }
    }
  }
  FAIL("no such piece on the board");
  return {};
}

void Night::note(const Effects& effects) {
  constexpr std::array steps{"raised", "cleared", "acknowledged", "restated"};
  for (const auto& gap : effects.gaps) {
    timeline_.push_back(fmt::format("{} gap in {} until {}: {}", clock(gap.from), gap.bay, clock(gap.to),
                                    gap.why == GapWhy::clock_step ? "clock step" : "no readings"));
    gaps_.push_back(gap);
  }
  const auto told = [&](Word word, Time at, const std::string& what) {
    timeline_.push_back(word == Word::taken_back ? fmt::format("{} taken back: {}", clock(at), what)
                        : word == Word::look     ? fmt::format("{} look: {}", clock(at), what)
                                                 : fmt::format("{} {}", clock(at), what));
  };
  for (const auto& row : effects.milestones) {
    told(row.word, row.at, fmt::format("{} {}", name_of(row.which), panels_[row.piece]));
    milestones_.push_back(row);
  }
  for (const auto& row : effects.releases) {
    told(row.word, row.at, fmt::format("release-ready {}", row.vehicle));
  }
  for (const auto& row : effects.alerts) {
    const Time when = row.step == AlertStep::raised     ? row.alert.raised
                      : row.step == AlertStep::cleared  ? *row.alert.cleared
                      : row.step == AlertStep::restated ? clock_.now()
                                                        : *row.alert.acknowledged;
    timeline_.push_back(
        fmt::format("{} {} {}", clock(when), steps[static_cast<std::size_t>(row.step)], row.alert.id));
    alerts_.push_back(row);
  }
}

std::vector<std::string> Night::timeline(std::string_view words) const {
  std::vector<std::string> out;
  std::copy_if(timeline_.begin(), timeline_.end(), std::back_inserter(out),
               [&](const std::string& line) { return line.find(words) != std::string::npos; });
  return out;
}

}  // namespace dryclock::nights
