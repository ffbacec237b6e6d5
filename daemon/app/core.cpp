#include "app/core.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "app/row_messages.hpp"
#include "engine/open_alerts.hpp"
#include "history/boots.hpp"
#include "wording/spoken.hpp"

namespace dryclock::app {

Core::Core(ClockSource clock, wording::Words words, Publisher publisher, CorePorts ports)
    : clock_(clock),
      words_(std::move(words)),
      english_({Language::english_uk, words_.manner().temperature}, {}, words_.zone(), wording::Dates::iso),
      publisher_(std::move(publisher)),
      ports_(std::move(ports)),
      engine_(Setup{}) {
  thread_.adopt();
}

void Core::begin(history::Dates dates) {
  thread_.check();
  dates_ = std::move(dates);
  engine_ = engine::Engine(Setup{});
  now_ = Time{};
  applied_ = 0;
  seq_by_key_.clear();
  shown_ = {};
  whole_since_ = Time{};
  found_again_.clear();
  fall_behind();
}

void Core::know_open(const std::vector<AlertSummary>& in_table) {
  if (!open_) {
    open_.emplace();
    for (const AlertSummary& alert : in_table) {
      open_->emplace(alert.id, alert);
    }
  }
}

std::vector<AlertSummary> Core::known_open() const {
  std::vector<AlertSummary> out;
  for (const auto& [id, alert] : open_.value_or(std::map<std::string, AlertSummary>{})) {
    out.push_back(alert);
  }
  return out;
}

void Core::agree() {
  const auto board = this->board().alerts;
  const auto in_table = known_open();
  const auto same = [](const AlertSummary& alert) {
    return [&](const AlertSummary& other) { return other.id == alert.id && other.raised == alert.raised; };
  };
  Effects news;
  Effects silent;  // of an alert that stands in both, only the time differs: nobody is told twice
  const auto one_of = [](const AlertSummary& alert, const std::vector<AlertSummary>& others) {
    return std::ranges::find(others, alert.id, &AlertSummary::id) != others.end();
  };
  for (const AlertSummary& alert : in_table) {
    if (engine::follows_from_rows(alert.rule) && std::ranges::none_of(board, same(alert))) {
      auto& effects = one_of(alert, board) ? silent : news;
      effects.alerts.push_back({AlertStep::cleared, alert});
      effects.alerts.back().alert.cleared = std::max(now_, alert.raised);
    }
  }
  for (const AlertSummary& alert : board) {
    if (engine::follows_from_rows(alert.rule) && std::ranges::none_of(in_table, same(alert))) {
      (one_of(alert, in_table) ? silent : news).alerts.push_back({AlertStep::raised, alert});
    }
  }
  silent.air_hours = std::exchange(found_again_, {});
  if (!silent.alerts.empty() || !silent.air_hours.empty()) {
    hand_over(std::move(silent));
  }
  keep_shown(news, false, 0);
  commit(std::move(news));
  say_anew(board);
  behind_ = false;
}

void Core::say_anew(const std::vector<AlertSummary>& board) {
  Effects anew;
  for (const AlertSummary& said : known_open()) {
    const auto is = std::ranges::find(board, said.id, &AlertSummary::id);
    auto alert =
        engine::follows_from_rows(said.rule) && is != board.end() ? *is : wording::spoken(said, words_);
    if (alert.what.words != said.what.words || alert.advice.words != said.advice.words) {
      anew.alerts.push_back({AlertStep::restated, std::move(alert)});
    }
  }
  commit(std::move(anew));
}

void Core::move(const AlertSummary& was, const AlertSummary& is) {
  Effects silent;
  silent.alerts = {{AlertStep::cleared, was}, {AlertStep::raised, is}};
  silent.alerts.front().alert.cleared = was.raised;
  hand_over(std::move(silent));
}

void Core::assume(const Configured& configured) {
  engine_.assume(configured);
}

Decoded Core::decode(JournalRow& row) const {
  thread_.check();
  return dates_.decode(row, engine_.mappings(), now_);
}

Effects Core::apply(const JournalRow& row, const Decoded& decoded) {
  applied_ = row.seq;
  if (row.kind != RowKind::shown) {
    now_ = std::max(now_, row.message.received_at);
  }
  if (now_ == Time{}) {
    // No message has told a time yet: there is nothing to be "now" for.
    if (decoded.configured) {
      engine_.assume(*decoded.configured);
    }
    Effects nothing;
    nothing.applied = row.seq;
    return nothing;
  }
  Effects effects = engine_.apply(row, decoded);
  if (decoded.redated && !by_messages()) {
    const auto& redated = *decoded.redated;
    effects.dated_anew = DatedAnew{redated, row.seq, dates_.begins_of(redated.boot), history::clock_slack};
  }
  speak(effects);
  if (decoded.event && !decoded.event->key.empty()) {
    seq_by_key_.emplace(decoded.event->key, row.seq);
  }
  return effects;
}

void Core::replay(JournalRow row) {
  const Decoded decoded = decode(row);
  Effects effects = apply(row, decoded);
  std::ranges::move(effects.air_hours, std::back_inserter(found_again_));
}

void Core::apply(JournalRow row) {
  using std::chrono::floor, std::chrono::hours;
  const Time before = now_;
  const Decoded decoded = decode(row);
  ports_.heard(row, decoded.readings);
  const auto* back = decoded.event ? std::get_if<Superseded>(&decoded.event->detail) : nullptr;
  const auto gone = back ? publisher_.taken_back(back->event, engine_.board().vehicles) : std::nullopt;
  Effects effects = apply(row, decoded);
  if (gone) {
    effects.outgoing.push_back(*gone);
  }
  const bool new_hour = before != Time{} && floor<hours>(now_) > floor<hours>(before);
  keep_shown(effects, new_hour, effects.applied);
  commit(std::move(effects));
}

Board Core::board() const {
  Board board = engine_.board();
  board.now = std::max(board.now, now_);
  return wording::spoken(std::move(board), words_);
}

void Core::speak(Effects& effects) const {
  for (auto& row : effects.alerts) {
    row.alert = wording::spoken(std::move(row.alert), words_);
  }
}

void Core::keep_shown(const Effects& effects, bool new_hour, Seq row) {
  const bool changed = !effects.milestones.empty() || !effects.releases.empty() || !effects.alerts.empty();
  if (!changed && !new_hour) {
    return;
  }
  const Board board = this->board();
  auto all = shown_.changes(effects, board);
  if (new_hour) {
    auto hourly = shown_.hourly(board);
    std::move(hourly.begin(), hourly.end(), std::back_inserter(all));
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    // A row that a crash has kept from being committed comes again: what it caused is not written twice.
    append_shown(all[i], row == 0 ? std::string{} : "shown/" + std::to_string(row) + "/" + std::to_string(i));
  }
}

void Core::append_shown(const Shown& shown, std::string key) {
  const VehicleId vehicle = shown.vehicle ? shown.vehicle->vehicle : 0;
  store::Entry entry{RowKind::shown, shown_message(shown, now(ports_.wall_clock())), std::move(key)};
  ports_.append(std::move(entry), [this, vehicle](const Result<store::Appended>& appended) {
    if (!appended || appended->repeated) {
      shown_.forget(vehicle);
    }
  });
}

void Core::settled(const Outgoing& message, const OutboxMark& mark) {
  thread_.check();
  const auto alert = Publisher::alert_in(message);
  if (!alert) {
    return;
  }
  Shown row = empty_row(ShownWhy::delivered, now(ports_.wall_clock()),
                        vehicle_of(alert->rule, alert->subject, board()));
  row.deliveries.push_back({message.channel, alert->id,
                            mark.step == OutboxStep::given_up ? std::optional{mark.why} : std::nullopt});
  append_shown(row, {});
}

void Core::settle() {
  for (const Learnt& due : behind_ ? std::vector<Learnt>{} : engine_.to_learn(whole_since_)) {
    learn(due);
  }
  for (OutlookTask& task : engine_.outlook_tasks()) {
    ports_.look_ahead(std::move(task));
  }
  ports_.board_changed();
}

void Core::apply(const OutlookAnswer& answer) {
  thread_.check();
  const auto due = engine_.apply(answer);
  if (due && !behind_) {
    announce(*due, answer);
  }
  ports_.board_changed();
}

// What is said twice would be told twice: while a vehicle's row is on its way no other is written, and the
// answer that came meanwhile is looked at again once the engine has the row. After a failure the next outlook
// says it again.
void Core::announce(const Announced& due, const OutlookAnswer& answer) {
  const auto [waiting, first] = announcing_.try_emplace(due.vehicle);
  if (!first) {
    waiting->second = answer;
    return;
  }
  store::Entry entry{RowKind::announced, announced_message(due, now(ports_.wall_clock())), {}};
  ports_.append(std::move(entry), [this, vehicle = due.vehicle](const Result<store::Appended>& appended) {
    const auto meanwhile = announcing_.extract(vehicle);
    if (appended && meanwhile.mapped()) {
      apply(*meanwhile.mapped());
    }
  });
}

// After a failure it is due again.
void Core::learn(const Learnt& due) {
  if (!learning_.insert(due.vehicle).second) {
    return;
  }
  // What a crash has kept from being taken comes again: it is not written twice.
  auto key = fmt::format("learnt/{}/{}/{}", due.vehicle, due.release, due.after);
  store::Entry entry{RowKind::learnt, learnt_message(due, now(ports_.wall_clock())), std::move(key)};
  ports_.append(std::move(entry),
                [this, vehicle = due.vehicle](const Result<store::Appended>&) { learning_.erase(vehicle); });
}

void Core::commit(Effects effects) {
  if (effects.applied == 0 && effects.alerts.empty()) {
    return;
  }
  auto messages = publisher_.alerts(effects.alerts, now_);
  std::move(messages.begin(), messages.end(), std::back_inserter(effects.outgoing));
  hand_over(std::move(effects));
}

void Core::hand_over(Effects effects) {
  committed_ = std::max(committed_, effects.applied);
  for (const auto& [step, alert] : effects.alerts) {
    if (open_ && step == AlertStep::cleared) {
      open_->erase(alert.id);
    } else if (open_) {
      open_->insert_or_assign(alert.id, alert);
    }
  }
  ports_.commit(std::move(effects));
}

void Core::raise(AlertRule rule, const std::string& subject, Fact what, std::optional<Fact> advice) {
  thread_.check();
  Effects effects =
      engine_.raise(rule, subject, std::move(what), advice ? std::move(*advice) : engine::usual_advice(rule));
  speak(effects);
  keep_shown(effects, false, 0);
  commit(std::move(effects));
}

void Core::clear(AlertRule rule, const std::string& subject) {
  thread_.check();
  Effects effects = engine_.clear(rule, subject);
  speak(effects);
  keep_shown(effects, false, 0);
  commit(std::move(effects));
}

void Core::publish(Time wall) {
  thread_.check();
  if (behind_) {
    return;  // the board is not whole
  }
  const Board board = this->board();
  Effects effects;
  effects.outgoing = publisher_.vehicles(board.vehicles);
  auto waited = publisher_.after_quiet(board.alerts, now(wall));
  std::move(waited.begin(), waited.end(), std::back_inserter(effects.outgoing));
  if (!effects.outgoing.empty()) {
    ports_.commit(std::move(effects));
  }
}

std::optional<Problem> Core::no_bay(const std::string& bay) const {
  return std::ranges::any_of(engine_.setup().bays, [&](const BaySetup& one) { return one.name == bay; })
             ? std::nullopt
             : std::optional{Problem{"no bay '" + bay + "'", {}}};
}

Result<std::vector<AirPoint>> Core::air(const std::string& bay, Time from, Time to) const {
  if (const auto none = no_bay(bay)) {
    return *none;
  }
  return engine_.air(bay, from, to);
}

Result<std::vector<AirHourAhead>> Core::air_ahead(const std::string& bay) const {
  if (const auto none = no_bay(bay)) {
    return *none;
  }
  return engine_.air_ahead(bay);
}

}  // namespace dryclock::app
