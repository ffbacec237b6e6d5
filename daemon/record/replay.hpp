// One vehicle's stay, lived again by an engine of its own.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "engine/engine.hpp"
#include "history/journal.hpp"
#include "record/gather.hpp"
#include "record/vehicle_events.hpp"
#include "store/reader.hpp"

namespace dryclock::record {

class Replay {
 public:
  // `events`: of the vehicle; their times of entry are corrected where the daemon's time came from messages.
  // Of what concerns the shop, and of settings, those from before the first row are told at its moment.
  Replay(const Origin& origin, const history::Journal& journal, VehicleId vehicle,
         std::vector<history::RecordedEvent>& events);

  // Hours of the bays' air, as their table has them; call before run().
  void know_air(const std::vector<AirHour>& hours) { engine_.know_air(hours); }
  // Rows from `first` on, until the vehicle has been released and integrated to its end, or to the last one.
  [[nodiscard]] Result<void> run(const store::Reader& reader, Seq first);

  // What the page would have shown of the vehicle just before each step, by the step's event: what had been
  // said by then, and the estimate without a forecast.
  [[nodiscard]] const std::map<Seq, VehicleSummary>& then() const { return then_; }
  // As shown just before the release, or at the end of the journal, with its outlook.
  [[nodiscard]] const VehicleSummary& at_end() const { return at_end_; }
  // What the shop had shown by then.
  [[nodiscard]] const LearnedView& learned() const { return learned_; }
  // What was said of the vehicle and its pieces, by rows or by what somebody saw.
  [[nodiscard]] const std::vector<SaidThen>& announcements() const { return announcements_; }
  // With everything that was told later taken in.
  [[nodiscard]] std::optional<VehicleSummary> summary() const;
  // What a piece held every `every`, by what was known at the end. Problem: no such piece.
  [[nodiscard]] Result<std::vector<HistoryPoint>> history(PieceId piece, Millis every) const {
    return engine_.history(piece, every, known_.get());
  }
  [[nodiscard]] const engine::Engine& engine() const { return engine_; }
  [[nodiscard]] Time now() const { return now_; }
  // Of all bays; the times are those the engine lived in.
  [[nodiscard]] const std::vector<ReadingRow>& readings() const { return readings_; }
  [[nodiscard]] const std::vector<RejectedRow>& rejects() const { return rejects_; }
  [[nodiscard]] const std::vector<DaemonStart>& starts() const { return starts_; }
  [[nodiscard]] std::vector<GapRow> gaps() const;
  // Of the messages that gave readings, with the bay.
  [[nodiscard]] const std::set<std::pair<std::string, std::string>>& topics() const { return topics_; }
  [[nodiscard]] Seq last_row() const { return last_row_; }
  // Every way in which a sensor was read, and from which row on.
  struct ReadAs {
    Seq from = 0;
    SensorMapping mapping;
  };
  [[nodiscard]] const std::vector<ReadAs>& read_as() const { return read_as_; }

 private:
  struct Moment {
    Time at;
    Seq event;
  };
  void apply(JournalRow row);
  [[nodiscard]] Result<void> tell_the_shop(const store::Reader& reader, Seq first);
  void note_mappings(Seq from);
  void apply(const JournalRow& row, const Decoded& decoded);
  void note_announcements(const JournalRow& row, const Decoded& decoded, const Effects& effects);
  void look_at(Moment moment);
  // An outlook from now on, without a forecast or with the one that the engine has.
  void ask_outlook(bool with_forecast);
  void look_at_end();
  void advance(Time to);
  [[nodiscard]] bool complete();
  void tell_the_rest();

  const Origin& origin_;
  const history::Journal& journal_;
  VehicleId vehicle_;
  std::vector<history::RecordedEvent>& events_;
  engine::Engine engine_;
  Time now_{};
  Seq last_row_ = 0;
  std::optional<Time> released_;
  Seq release_event_ = 0;
  std::vector<Moment> moments_;  // the next one last
  Time looked_;                  // when complete() last asked the engine
  std::map<Seq, history::RecordedEvent*> own_;
  std::set<Seq> of_the_shop_;
  std::vector<ReadAs> read_as_;
  std::vector<std::pair<JournalRow, Decoded>> held_;

  std::map<Seq, VehicleSummary> then_;
  VehicleSummary at_end_;
  LearnedView learned_;
  std::shared_ptr<const models::ShopBelief> known_;
  bool at_end_known_ = false;
  std::vector<SaidThen> announcements_;
  std::vector<ReadingRow> readings_;
  std::set<std::pair<std::string, std::string>> topics_;
  std::vector<RejectedRow> rejects_;
  std::vector<DaemonStart> starts_;
  std::map<std::pair<std::string, Time>, GapRow> gaps_;  // one that grows is told again
};

}  // namespace dryclock::record
