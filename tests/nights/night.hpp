// A night in an invented shop, played on a manual clock and written as sentences. Readings and events take
// the daemon's own way: JSON, the decoder, the engine. So do outlooks: they are worked out as they fall due,
// and what they announce comes back as a row.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/clock.hpp"
#include "base/local_time.hpp"
#include "domain/effects.hpp"
#include "domain/setup.hpp"
#include "engine/engine.hpp"
#include "support/small_shop.hpp"

namespace dryclock::nights {

class Night {
 public:
  // `start` in local time: "2026-03-01 18:00".
  explicit Night(std::string_view start, std::string_view zone = "UTC", Setup setup = support::small_shop());

  // What people mean by "07:12": the next time that a clock on the wall shows it. Also "07:12:30",
  // "2026-03-02 07:12".
  [[nodiscard]] Time at(std::string_view clock) const;
  // Sensors send until then; what they send at that very moment comes with the next step.
  void passes_to(std::string_view clock) { passes_to(at(clock)); }
  void passes_to(Time t);

  // The bay's real air from now on, and where it drifts to, in a straight line.
  void air_is(const std::string& bay, double air_c, double rh_pct);
  void air_drifts(const std::string& bay, double air_c, double rh_pct, Millis over);
  // A bay's sensor tells its air at every whole multiple of `every` from now on; silent until the first call.
  void sends_every(const std::string& bay, Millis every);
  void falls_silent(const std::string& bay);
  void freezes(const std::string& bay);  // it sends the very same values from now on
  // One message, now. `source_time`: what the sensor says it is, where it says so.
  void sends(const std::string& bay, double air_c, double rh_pct, std::optional<Time> source_time = {},
             bool dup = false, bool retained = false);

  // Each is checked first, as the daemon does, and must be accepted. `happened`: when it happened; else now.
  VehicleId arrives(const std::string& reference, const std::string& bay, std::optional<double> panel_c = {},
                    std::string_view hand_over = "");
  PieceId lays(VehicleId vehicle, const std::string& panel, std::string_view happened = "",
               std::optional<PieceId> replaces = {});
  Seq does(EventDetail detail, std::string_view happened = "");
  // What check() says against it; empty: nothing.
  [[nodiscard]] std::string objection(EventDetail detail, std::string_view happened = "") const;
  // They count from now on.
  void settings_are(Setup setup);
  void clock_steps_to(std::string_view clock, const std::string& by);

  // Outlooks look ahead from now on, as the daemon's do. Until then they are worked out without a forecast,
  // which costs less: only what is so now is judged.
  void looks_ahead() { ahead_ = true; }
  // Outlooks are left to the test from now on.
  void leaves_outlooks() { answering_ = false; }
  void answers_outlooks() { answering_ = true; }

  // What vehicles taught that have left is kept as rows from now on, as the daemon keeps it.
  void keeps_lessons() { keeping_ = true; }

  // What happened, in order: "Mon 02:50 raised bay-cold/front", "Mon 07:12 wrap-ready bonnet".
  [[nodiscard]] const std::vector<std::string>& timeline() const { return timeline_; }
  // Of one kind: those that contain `words`.
  [[nodiscard]] std::vector<std::string> timeline(std::string_view words) const;
  [[nodiscard]] std::string clock(Time t) const;

  [[nodiscard]] engine::Engine& engine() { return *engine_; }
  [[nodiscard]] Board board() const { return engine_->board(); }
  [[nodiscard]] PieceSummary piece(PieceId id) const;
  [[nodiscard]] Time now() const { return clock_.now(); }
  [[nodiscard]] const std::vector<JournalRow>& rows() const { return rows_; }
  [[nodiscard]] const Setup& setup() const { return setup_; }
  [[nodiscard]] const std::vector<GapRow>& gaps() const { return gaps_; }
  [[nodiscard]] const std::vector<AlertRow>& alerts() const { return alerts_; }
  [[nodiscard]] const std::vector<MilestoneRow>& milestones() const { return milestones_; }

 private:
  struct BayState {
    double from_c = 21.0, from_rh = 50.0, to_c = 21.0, to_rh = 50.0;
    Time from, to;
    Millis every{0};
    bool frozen = false;
    Time next;
  };
  [[nodiscard]] std::pair<double, double> air_at(const BayState& bay, Time t) const;
  Effects journal(RowKind kind, std::string topic, std::string payload, bool dup = false,
                  bool retained = false);
  void note(const Effects& effects);
  void answer_outlooks();
  void keep_lessons();

  Setup setup_;
  LocalZone zone_;
  ManualClock clock_;
  std::unique_ptr<engine::Engine> engine_;
  bool ahead_ = false, answering_ = true, keeping_ = false;
  std::map<std::string, BayState> bays_;
  std::map<PieceId, std::string> panels_;
  std::vector<JournalRow> rows_;
  std::vector<std::string> timeline_;
  std::vector<GapRow> gaps_;
  std::vector<AlertRow> alerts_;
  std::vector<MilestoneRow> milestones_;
};

// All that the board shows and each piece's past, as far as rows determine it, down to the last bit of every
// number. What an outlook says is not in it: that comes and goes with the answers.
[[nodiscard]] std::string fingerprint(const engine::Engine& engine);
// The same for what was told outside, times included.
[[nodiscard]] std::string fingerprint(const std::vector<ScreenedReading>& rows);
[[nodiscard]] std::string fingerprint(const std::vector<MilestoneRow>& rows);
[[nodiscard]] std::string fingerprint(const std::vector<ReleaseRow>& rows);
[[nodiscard]] std::string fingerprint(const std::vector<GapRow>& rows);
[[nodiscard]] std::string fingerprint(const std::vector<AlertRow>& rows);

}  // namespace dryclock::nights
