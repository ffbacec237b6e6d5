// Stages 3 to 8 on the core thread: rows from the journal go through decoder and engine, and what follows
// from them goes to the writer. Also the engine's door for the page and the client.
#pragma once

#include <deque>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "app/publisher.hpp"
#include "app/shown_recorder.hpp"
#include "base/thread_owner.hpp"
#include "config/config.hpp"
#include "domain/outlook.hpp"
#include "engine/engine.hpp"
#include "history/dates.hpp"
#include "http/services.hpp"
#include "store/writer.hpp"
#include "wire/event_json.hpp"
#include "wording/words.hpp"

namespace dryclock::app {

// What the core asks of the rest; all return at once.
struct CorePorts {
  std::function<void(Effects)> commit;
  // `done` comes back on the core thread, after rows() had the row.
  std::function<void(store::Entry, store::AppendDone done)> append;
  std::function<void(OutlookTask)> look_ahead;
  // Whether plate or customer of the vehicle are kept.
  std::function<bool(VehicleId)> keeps_personal;
  std::function<void()> board_changed;
  std::function<Time()> wall_clock;
  // What a row taken just now tells, before anything follows from it.
  std::function<void(const JournalRow&, const std::vector<Reading>&)> heard;
};

class Core {
 public:
  // `words`: the shop's.
  Core(ClockSource clock, wording::Words words, Publisher publisher, CorePorts ports);

  // Before any row: from nothing, with the times of rows as they are known now. Nobody is let in at the door
  // until agree().
  void begin(history::Dates dates);
  // The journal has rows that cannot be taken now: nobody is let in until the next replay has come to its
  // end.
  void fall_behind() { behind_ = true; }
  // The times that messages carry are its time.
  [[nodiscard]] bool by_messages() const { return clock_ == ClockSource::messages; }
  [[nodiscard]] const history::Dates& dates() const { return dates_; }
  // At start: every row since then will have been taken when the replay has come to its end.
  void whole_since(Time t) { whole_since_ = t; }
  // At start, before any row of a journal that begins without settings: those taken to have held.
  void assume(const Configured& configured);
  // At start, before any row: alerts that were open then. After the replay: those open now that no row tells
  // of.
  void seed(std::vector<AlertSummary> open) { engine_.seed_alerts(std::move(open)); }
  // At start, before any row: hours of air that its outlooks may learn from.
  void know_air(const std::vector<AirHour>& hours) { engine_.know_air(hours); }
  // Before the first replay of this process: the alerts that are open in their table. It knows later ones:
  // what it commits may still be on its way to the table.
  void know_open(const std::vector<AlertSummary>& in_table);
  // What is open in the table of alerts, or will be once the writer has got to all that was committed.
  [[nodiscard]] std::vector<AlertSummary> known_open() const;
  // After the replay: what stands on the board and is not open in the table (an older program, or other
  // times, came to other alerts) is raised, what is open there alone is cleared; what stands there in other
  // words (an older program, or another language) is said anew on MQTT and in the table, and nobody is told.
  void agree();
  // The table has the alert, which no row tells of, under another time from now on; nobody is told.
  void move(const AlertSummary& was, const AlertSummary& is);
  // A row whose effects are committed already: the engine takes it, nothing is written but hours of air that
  // their table had lost; agree() does that.
  void replay(JournalRow row);
  // A row made durable just now, or one whose effects a crash has kept from being committed.
  void apply(JournalRow row);
  // After some apply(): asks for outlooks that are due.
  void settle();

  void apply(const OutlookAnswer& answer);
  void submit(const std::string& json, Time wall, const std::function<void(http::SubmitAnswer)>& answer);
  // Several events as one: all are checked before the first is written. What a crash has kept out of the
  // journal comes in when the deed is sent again.
  void submit_deed(const std::string& json, Time wall, const std::function<void(http::DeedAnswer)>& answer);
  // Alerts about the daemon itself: disk, broker, store. They come from the machine, not from rows.
  // `advice`: absent: the rule's own.
  void raise(AlertRule rule, const std::string& subject, Fact what, std::optional<Fact> advice = {});
  void clear(AlertRule rule, const std::string& subject);
  // A message about an alert reached its channel, or was given up.
  void settled(const Outgoing& message, const OutboxMark& mark);
  // Vehicles whose message changed go to the outbox, and alerts that waited for quiet hours to end; nothing
  // while the core is behind.
  void publish(Time wall);
  // An earlier run of the daemon has published until then.
  void published_until(Time t) { publisher_.seen_to(t); }

  // The time that the engine lives in: `wall`, or the newest that a message told.
  [[nodiscard]] Time now(Time wall) const { return clock_ == ClockSource::system ? wall : now_; }
  // (from, to]. Problem: no such bay.
  [[nodiscard]] Result<std::vector<AirPoint>> air(const std::string& bay, Time from, Time to) const;
  [[nodiscard]] Result<std::vector<AirHourAhead>> air_ahead(const std::string& bay) const;
  // The last row taken or replayed.
  [[nodiscard]] Seq applied() const { return applied_; }
  // The last row whose effects this process has handed to the writer; 0: none yet.
  [[nodiscard]] Seq committed() const { return committed_; }
  [[nodiscard]] const engine::Engine& engine() const { return engine_; }
  [[nodiscard]] const wording::Words& words() const { return words_; }
  // What the page shows, in the shop's words.
  [[nodiscard]] Board board() const;

 private:
  [[nodiscard]] std::optional<Problem> no_bay(const std::string& bay) const;
  struct AtTheDoor {
    wire::SubmittedEvent submitted;
    std::function<void(http::SubmitAnswer)> answer;
  };
  struct Deed {
    std::string key;
    std::vector<Event> events;  // that are not taken yet
    std::size_t next = 0;
    std::vector<Event> taken;
    std::function<void(http::DeedAnswer)> answer;
  };
  // `event` as it is to be entered now: the first to tell a time tells its own.
  void enter(Event& event) const;
  void admit_next();
  void admit(AtTheDoor next);
  void admit_deed(dryclock::Deed deed, Time wall, std::function<void(http::DeedAnswer)> answer);
  void take_on(const std::shared_ptr<Deed>& deed);
  [[nodiscard]] Decoded decode(JournalRow& row) const;
  [[nodiscard]] Effects apply(const JournalRow& row, const Decoded& decoded);
  void commit(Effects effects);
  void hand_over(Effects effects);
  // Of the alerts that are open in the table, those that are in other words than the shop's are now.
  void say_anew(const std::vector<AlertSummary>& board);
  // What the page says now is kept, for what `effects` changed; `new_hour`: for every open vehicle. `row`:
  // that caused it, 0: none.
  void keep_shown(const Effects& effects, bool new_hour, Seq row);
  // Puts the shop's words to what goes to the table, to MQTT and to what was shown.
  void speak(Effects& effects) const;
  void append_shown(const Shown& shown, std::string key);
  // Writes the row of what an answer announces.
  void announce(const Announced& due, const OutlookAnswer& answer);
  // Writes the row of what a vehicle taught.
  void learn(const Learnt& due);
  // 409: the fact with the shop's words, and the same in English.
  [[nodiscard]] http::Refused refused(const Refusal& refusal) const;
  [[nodiscard]] http::SubmitAnswer accepted(Seq seq, bool repeated) const;
  [[nodiscard]] http::SubmitAnswer kept(const store::Appended& appended, Event event) const;

  ThreadOwner thread_{"core"};
  ClockSource clock_;
  wording::Words words_;
  wording::Words english_;  // for whoever knows no facts; in the shop's zone
  Publisher publisher_;
  CorePorts ports_;
  history::Dates dates_;
  engine::Engine engine_;
  ShownRecorder shown_;
  Time now_{};
  Seq applied_ = 0;
  Seq committed_ = 0;
  bool behind_ = false;
  std::optional<std::map<std::string, AlertSummary>> open_;  // by id; see known_open()
  std::map<std::string, Seq> seq_by_key_;  // of events taken, by the sender's idempotency key
  // By vehicle whose `announced` row is not taken yet: the newest answer that had more to say meanwhile.
  std::map<VehicleId, std::optional<OutlookAnswer>> announcing_;
  std::set<VehicleId> learning_;  // whose `learnt` row is not taken yet
  Time whole_since_{};
  std::vector<AirHour> found_again_;  // by the replay
  // Checked one by one, the next when the last one's row has been applied: what was accepted holds.
  std::deque<std::function<void()>> at_the_door_;
  bool admitting_ = false;
};

}  // namespace dryclock::app
