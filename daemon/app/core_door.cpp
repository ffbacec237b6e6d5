// How events come in: one by one, checked before they are written.
#include <fmt/format.h>

#include <memory>

#include "app/commit_to.hpp"
#include "app/core.hpp"
#include "app/row_messages.hpp"

namespace dryclock::app {
namespace {

http::Refused busy() {
  return {503, {"the journal is being read again; try again in a moment", {}}};
}

}  // namespace

http::Refused Core::refused(const Refusal& refusal) const {
  Fact fact = refusal.what;
  fact.words = words_.fact(fact);
  return {409, {english_.fact(fact), refusal.where}, std::move(fact)};
}

http::SubmitAnswer Core::accepted(Seq seq, bool repeated) const {
  const Event* event = engine_.event(seq);
  return event != nullptr ? http::SubmitAnswer{Accepted{seq, repeated, *event}}
                          : refused({{"refusals.sent-before"}, "/key"});
}

void Core::submit(const std::string& json, Time wall, const std::function<void(http::SubmitAnswer)>& answer) {
  thread_.check();
  auto submitted = wire::read_submitted(json, now(wall));
  if (!submitted) {
    return answer(http::Refused{400, submitted.error()});
  }
  enter(submitted->event);
  at_the_door_.emplace_back(
      [this, next = AtTheDoor{std::move(*submitted), answer}]() mutable { admit(std::move(next)); });
  admit_next();
}

void Core::enter(Event& event) const {
  if (by_messages() && now_ == Time{}) {
    event.entered = event.at;
  }
}

void Core::submit_deed(const std::string& json, Time wall,
                       const std::function<void(http::DeedAnswer)>& answer) {
  thread_.check();
  auto deed = wire::read_deed(json, now(wall));
  if (!deed) {
    return answer(http::Refused{400, deed.error()});
  }
  at_the_door_.emplace_back(
      [this, deed = std::move(*deed), wall, answer]() mutable { admit_deed(std::move(deed), wall, answer); });
  admit_next();
}

void Core::admit_deed(dryclock::Deed told, Time wall, std::function<void(http::DeedAnswer)> answer) {
  if (behind_) {
    return answer(busy());
  }
  const auto deed = std::make_shared<Deed>(Deed{told.key, {}, 0, {}, std::move(answer)});
  for (const Superseded& back : told.undo.empty() ? std::vector<Superseded>{} : engine_.undo_of(told.undo)) {
    Event event;
    event.at = event.entered = now(wall);
    event.key = fmt::format("{}/{}", told.key, back.event);
    event.deed = told.key;
    event.who = told.who;
    event.note = told.note;
    event.detail = back;
    told.events.push_back(std::move(event));
  }
  for (const Event& event : engine_.events(0)) {
    if (event.deed == told.key) {
      deed->taken.push_back(event);
    }
  }
  for (Event& event : told.events) {
    enter(event);
    if (!seq_by_key_.contains(event.key)) {
      deed->events.push_back(std::move(event));
    }
  }
  if (deed->events.empty()) {
    return deed->answer(
        deed->taken.empty()
            ? http::DeedAnswer{refused({{"refusals.no-deed", {say::text("deed", told.undo)}}, "/undo"})}
            : http::DeedAnswer{DeedTaken{deed->key, true, deed->taken}});
  }
  if (const auto possible = engine_.check(deed->events); !possible) {
    return deed->answer(refused(possible.error()));
  }
  take_on(deed);
}

void Core::take_on(const std::shared_ptr<Deed>& deed) {
  if (deed->next == deed->events.size()) {
    return deed->answer(DeedTaken{deed->key, false, deed->taken});
  }
  admit({{deed->events[deed->next++], {}, {}}, [this, deed](const http::SubmitAnswer& taken) {
           if (!taken) {
             return deed->answer(taken.error());
           }
           deed->taken.push_back(taken->event);
           take_on(deed);
         }});
}

void Core::admit_next() {
  while (!admitting_ && !at_the_door_.empty()) {
    const auto next = std::move(at_the_door_.front());
    at_the_door_.pop_front();
    next();
  }
}

void Core::admit(AtTheDoor next) {
  Event& event = next.submitted.event;
  const auto& answer = next.answer;
  if (behind_) {
    return answer(busy());
  }
  // A repeated send must get the first one's answer, also where it could not be applied a second time.
  if (const auto known = seq_by_key_.find(event.key); known != seq_by_key_.end()) {
    return answer(accepted(known->second, true));
  }
  if (const auto possible = engine_.check(event); !possible) {
    return answer(refused(possible.error()));
  }
  if (by_messages()) {
    event.entered = std::max(event.entered, event.at);
  }
  engine_.complete(event);
  store::Entry entry{RowKind::event, {}, event.key};
  if (auto* arrival = std::get_if<VehicleIn>(&event.detail)) {
    commit_to(next.submitted, *arrival, entry.personal);
  } else if (const auto* forgotten = std::get_if<Forgotten>(&event.detail)) {
    if (!ports_.keeps_personal(forgotten->vehicle)) {
      return answer(
          refused({{"refusals.nothing-kept", {say::text("vehicle", std::to_string(forgotten->vehicle))}},
                   "/vehicle"}));
    }
    entry.forget = forgotten->vehicle;
  } else if (const auto* taken_back = std::get_if<Superseded>(&event.detail);
             taken_back != nullptr && ports_.keeps_personal(taken_back->event)) {
    // An arrival that never was: nothing needs its plate and customer any more.
    entry.forget = taken_back->event;
  }
  entry.message.payload = wire::to_json(event);
  entry.message.received_at = event.entered;
  const Board board = this->board();
  const auto deed = deed_of(event.detail, board);
  if (deed) {
    entry.shown_before = shown_message(shown_.deed(*deed, board), event.entered);
  }
  const auto parsed = std::make_shared<const Event>(std::move(event));
  entry.parsed = parsed;
  admitting_ = true;
  ports_.append(std::move(entry), [this, answer, deed, parsed](const Result<store::Appended>& appended) {
    admitting_ = false;
    if (deed && (!appended || appended->repeated)) {
      shown_.forget(deed->vehicle);
    }
    answer(appended ? kept(*appended, *parsed) : http::SubmitAnswer{http::Refused{503, appended.error()}});
    admit_next();
  });
}

// Its row is on disk; where the core fell behind meanwhile it is taken with the others.
http::SubmitAnswer Core::kept(const store::Appended& appended, Event event) const {
  if (!behind_) {
    return accepted(appended.seq, appended.repeated);
  }
  if (appended.repeated) {
    return busy();
  }
  event.seq = appended.seq;
  return Accepted{appended.seq, false, event};
}

}  // namespace dryclock::app
