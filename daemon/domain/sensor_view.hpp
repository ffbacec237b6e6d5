// What the outside may see of sensors and coupons.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/types.hpp"
#include "domain/view.hpp"

namespace dryclock {

// A sensor in its box over a salt, so far.
struct CheckProgress {
  models::Salt salt = models::Salt::sodium_chloride;
  Time since;
  Time until;  // ends by itself
  std::optional<double> temperature_c, shown_pct;
  std::optional<double> rise_pct_per_hour;  // over the last hour
  Fact what;                                // it waits for, or came out
  std::optional<SensorChecked> result;      // once it is steady: as it may be entered
};
void visit_fields(auto& f, Of<CheckProgress> auto& s) {
  f.type("CheckProgress", "a sensor in its box over a salt, so far");
  f("salt", s.salt);
  f("since", s.since);
  f("until", s.until, "ends by itself");
  f("temperature_c", s.temperature_c);
  f("shown_pct", s.shown_pct);
  f("rise_pct_per_hour", s.rise_pct_per_hour, "over the last hour");
  f("what", s.what, "it waits for, or came out");
  f("result", s.result, "once it is steady: the event that keeps it");
}

struct PastCheck {
  Time at;
  SensorChecked result;
  bool current = true;  // not corrected or set up anew since
  Time due;             // the next one
};
void visit_fields(auto& f, Of<PastCheck> auto& s) {
  f.type("PastCheck", "what a check gave");
  f("at", s.at);
  f("due", s.due, "the next one");
  f("current", s.current, "not corrected or set up anew since");
  f("result", s.result, "the event that keeps it");
}

struct SensorStream {  // one quantity of a sensor, as it comes
  SensorRead read;
  std::optional<double> value;
  std::optional<Time> at;
  Verdict last_verdict = Verdict::ok;
  std::array<std::uint64_t, verdicts> counts{};
};
void visit_fields(auto& f, Of<SensorStream> auto& s) {
  f.type("SensorStream", "one quantity of a sensor, as it comes");
  f.flat(s.read);
  f("value", s.value, "C, %RH over water, m/s");
  f("at", s.at);
  f("last_verdict", s.last_verdict);
  f("counts", s.counts, by<Verdict>, "readings");
}

enum class SensorOrigin : std::uint8_t { file, assigned };

struct SensorView {
  std::string name, bay, model, place;
  SensorOrigin from = SensorOrigin::file;
  std::optional<Time> since;  // set up; absent: it stands in the file
  double tolerance_pct = 2.0;
  std::vector<SensorStream> reads;
  std::optional<Time> heard;
  std::optional<CheckProgress> checking;
  std::optional<PastCheck> last_check;
};
void visit_fields(auto& f, Of<SensorView> auto& s) {
  f.type("Sensor", "a device: what it says, how far it is believed, its last check");
  f("sensor", s.name);
  f("bay", s.bay);
  f("from", s.from);
  f("since", s.since, "set up; null: it stands in the settings");
  f("model", s.model);
  f("place", s.place);
  f("tolerance_pct", s.tolerance_pct, "what its maker states for humidity, %RH");
  f("heard", s.heard);
  f("reads", s.reads);
  f("checking", s.checking);
  f("last_check", s.last_check);
}

struct CouponWeighing {
  Seq event = 0;
  Time at;
  double grams = 0.0;
};
void visit_fields(auto& f, Of<CouponWeighing> auto& s) {
  f.type("CouponWeighing", "plate, water and film together");
  f("event", s.event, numbered);
  f("at", s.at);
  f("grams", s.grams);
}
struct CouponView {
  Seq id = 0;
  Time laid;
  CouponLaid coupon;
  std::vector<CouponWeighing> weighings;  // in order of time
  std::optional<FilmMeasured> measured;   // entered already
  std::optional<FilmMeasured> result;     // what the weighings give now, as it may be entered
  Fact what;                              // is still missing, or came out
};
void visit_fields(auto& f, Of<CouponView> auto& s) {
  f.type("Coupon", "a film plate that is weighed");
  f("coupon", s.id, numbered);
  f("laid", s.laid);
  f.flat(s.coupon);
  f("weighings", s.weighings);
  f("measured", s.measured, "kept already");
  f("result", s.result, "the event that keeps what the weighings give now");
  f("what", s.what, "is still missing, or came out");
}

struct BondPull {
  Seq event = 0;
  Time at;
  double peel = 0.0;
};
void visit_fields(auto& f, Of<BondPull> auto& s) {
  f.type("BondPull", "a strip that was pulled off, and what it took");
  f("event", s.event, numbered);
  f("at", s.at);
  f("peel", s.peel);
}
struct BondCouponView {
  Seq id = 0;
  Time laid;
  BondCouponLaid coupon;
  std::vector<BondPull> pulls;           // in order of time
  std::optional<BondMeasured> measured;  // entered already
  std::optional<BondMeasured> result;    // what the strips show now, as it may be entered
  Fact what;                             // is still missing, or came out
};
void visit_fields(auto& f, Of<BondCouponView> auto& s) {
  f.type("BondCoupon", "strips of film that are pulled off one by one");
  f("coupon", s.id, numbered);
  f("laid", s.laid);
  f.flat(s.coupon);
  f("pulls", s.pulls);
  f("measured", s.measured, "kept already");
  f("result", s.result, "the event that keeps what the strips show now");
  f("what", s.what, "is still missing, or came out");
}

// A coupon that is still being weighed or pulled: the air beside it is kept for so long. A film ten times as
// tight as those of the catalogue loses three quarters of its water within a week.
inline constexpr Millis longest_coupon = std::chrono::hours{14 * 24};

struct MeasuredFilm {
  Seq event = 0;
  Time at;
  FilmMeasured film;
};
void visit_fields(auto& f, Of<MeasuredFilm> auto& s) {
  f.type("MeasuredFilm", "from a coupon test: counts for pieces laid after it");
  f("event", s.event, numbered);
  f("at", s.at);
  f.flat(s.film);
}

}  // namespace dryclock
