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
  std::string text;                         // what it waits for, or what came out
  std::optional<SensorChecked> result;      // once it is steady: as it may be told
};

struct PastCheck {
  Time at;
  SensorChecked result;
  bool current = true;  // not corrected or set up anew since
  Time due;             // the next one
};

struct SensorView {
  struct Read {
    SensorMapping mapping;
    SensorSummary summary;
  };
  std::string name, bay, model, place;
  bool from_file = true;
  std::optional<Time> since;  // set up; absent: it stands in the file
  double tolerance_pct = 2.0;
  std::vector<Read> reads;
  std::optional<Time> heard;
  std::optional<CheckProgress> checking;
  std::optional<PastCheck> last_check;
};

struct CouponWeighing {
  Seq event = 0;
  Time at;
  double grams = 0.0;
};
struct CouponView {
  Seq id = 0;
  Time laid;
  CouponLaid coupon;
  std::vector<CouponWeighing> weighings;  // in order of time
  std::optional<FilmMeasured> measured;   // told already
  std::optional<FilmMeasured> result;     // what the weighings give now, as it may be told
  std::string text;                       // what is still missing, or what came out
};

// A coupon that is still being weighed: the air beside it is kept for so long. A film ten times as tight as
// those of the catalogue loses three quarters of its water within a week.
inline constexpr Millis longest_coupon = std::chrono::hours{14 * 24};

struct MeasuredFilm {
  Seq event = 0;
  Time at;
  FilmMeasured film;
};

}  // namespace dryclock
