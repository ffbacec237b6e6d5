// The engine: journal rows in, effects out. No I/O, no thread, no clock: time is what rows and advance()
// tell. Its state after row n is a function of rows 1..n and of the minutes that have passed, bit for bit,
// however they were cut into calls. Owned by the core thread.
//
// A minute is closed over the rows that were received until then and no others: by the first row that was
// received later, or by advance() once `settle` has passed, by when the last of them has come through the
// journal. So a row that is a little slow does the same now as it will in a replay.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "domain/air_ahead.hpp"
#include "domain/announced.hpp"
#include "domain/effects.hpp"
#include "domain/event.hpp"
#include "domain/learned_view.hpp"
#include "domain/learnt.hpp"
#include "domain/outlook.hpp"
#include "domain/refusal.hpp"
#include "domain/sensor_view.hpp"
#include "domain/setup.hpp"
#include "domain/view.hpp"

namespace dryclock::engine {

inline constexpr Millis settle = std::chrono::seconds{5};

// Whether a replay of the journal raises this alert again. The others come from an outlook or from the app:
// after a replay, seed those that the database still holds open.
[[nodiscard]] constexpr bool follows_from_rows(AlertRule rule) {
  return rule != AlertRule::estimate_slipped && rule != AlertRule::pace_low && rule != AlertRule::disk_low &&
         rule != AlertRule::broker_dropping && rule != AlertRule::store_failing &&
         rule != AlertRule::seal_failing && rule != AlertRule::sensor_drift &&
         rule != AlertRule::clock_doubtful && rule != AlertRule::channel_test;
}

class Engine {
 public:
  explicit Engine(Setup setup);
  ~Engine();
  Engine(const Engine&) = delete;
  Engine& operator=(const Engine&) = delete;
  Engine& operator=(Engine&&) noexcept;

  // Alerts that were open just before the first row to come; call before it. After a replay, once more with
  // those for which follows_from_rows() is false.
  void seed_alerts(std::vector<AlertSummary> open);

  // Hours of the bays' air as earlier effects told them, before the first row to come and after it; call
  // before it. What rows make of the same hours is then no news.
  void know_air(const std::vector<AirHour>& hours);

  // Settings that hold before the first row; call before it.
  void assume(const Configured& configured);

  // How the next row is to be read: the configuration's sensors and those that events have set up.
  [[nodiscard]] const std::vector<SensorMapping>& mappings() const;

  // What rows are read with now; bays that are no longer in it stand at its end, marked as gone.
  [[nodiscard]] const Setup& setup() const;
  // The same with all that the catalogue ever knew, marked likewise.
  [[nodiscard]] const Catalogue& catalogue() const;

  // Whether an event could be applied now, with what is wrong where it could not ("no vehicle 12").
  [[nodiscard]] Allowed check(const Event& event) const;

  // Several events told as one: each, and all together.
  [[nodiscard]] Allowed check(const std::vector<Event>& deed) const;
  // Corrections that take back all that stands of a deed, the last first; empty: nothing stands.
  [[nodiscard]] std::vector<Superseded> undo_of(const std::string& deed) const;
  // What an event's row is to tell beside what was entered: that it says the same for ever. After check().
  void complete(Event& event) const;

  // Time moves to the row's time first (never backwards), then the row is applied: an event without being
  // checked again, since its row tells that it was accepted; settings from this row on. A `shown` row does
  // nothing.
  Effects apply(const JournalRow& row, const Decoded& decoded);
  // Time passes without a row: silence, dwell and dryness are functions of it.
  Effects advance(Time now);

  // Alerts about the daemon itself, which no row tells of. Raising one that is open does nothing.
  Effects raise(AlertRule rule, const std::string& subject, Fact what, Fact advice);
  Effects clear(AlertRule rule, const std::string& subject);

  // Summaries are kept for the minute: asking often is cheap.
  [[nodiscard]] Board board() const;
  // Whether it is still on the board or not; absent where no such vehicle came.
  [[nodiscard]] std::optional<VehicleSummary> vehicle(VehicleId id) const;
  // One minute points of a bay's air in (from, to], as far back as any piece still needs them.
  [[nodiscard]] std::vector<AirPoint> air(const std::string& bay, Time from, Time to) const;
  // Its next three days, at each full hour from now on; empty where nobody measures.
  [[nodiscard]] std::vector<AirHourAhead> air_ahead(const std::string& bay) const;
  // What a piece held every `every` since it was laid, or less often where that would be more than 150
  // points, computed again from the stored air with what the shop is known to be: `known`, or now where that
  // is null. Problem: no such piece.
  [[nodiscard]] Result<std::vector<HistoryPoint>> history(PieceId piece,
                                                          Millis every = std::chrono::minutes{10},
                                                          const models::ShopBelief* known = nullptr) const;
  // All sensors: the configuration's first, then in the order in which they were set up.
  [[nodiscard]] std::vector<SensorView> sensors() const;
  // In the order in which they were laid. Evaluated when asked for, from the air that is still kept.
  [[nodiscard]] std::vector<CouponView> coupons() const;
  // Clear plates that are looked at, in the order in which they were laid; as of the minute.
  [[nodiscard]] std::vector<PlateView> plates() const;
  [[nodiscard]] std::vector<BondCouponView> bond_coupons() const;
  // In order of time.
  [[nodiscard]] std::vector<MeasuredFilm> measured_films() const;
  // What the shop has shown of its films, hands and eyes so far.
  [[nodiscard]] LearnedView learned() const;
  [[nodiscard]] std::shared_ptr<const models::ShopBelief> belief() const;
  // Applied events of a vehicle (all where 0), superseded ones included.
  [[nodiscard]] std::vector<Event> events(VehicleId vehicle) const;
  // By its number; null: none that this engine has applied.
  [[nodiscard]] const Event* event(Seq seq) const;

  // Vehicles whose outlook is due: ten minutes after the last, after an event, when something was learnt from
  // a look at any vehicle, or when the last answer asked for it. Each is handed out once.
  [[nodiscard]] std::vector<OutlookTask> outlook_tasks();
  // Keeps it for the board. What it announces is so once it comes back as a row: that is for the caller to
  // append. Absent where it announces nothing new, or is of an older revision and was dropped.
  [[nodiscard]] std::optional<Announced> apply(const OutlookAnswer& answer);
  // What vehicles taught that have left and were integrated to their end: for the caller to append, until a
  // row tells it. Of those alone that arrived at `whole_from` or later: since then every row was applied.
  [[nodiscard]] std::vector<Learnt> to_learn(Time whole_from) const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::engine
