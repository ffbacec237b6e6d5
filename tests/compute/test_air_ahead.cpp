#include "compute/air_ahead.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "compute/outlook.hpp"
#include "compute_tasks.hpp"
#include "models/air_outlook.hpp"
#include "models/humid_air.hpp"
#include "models/piece_reach.hpp"
#include "models/shop_belief.hpp"
#include "support/capture_bound.hpp"

namespace dryclock::compute {
namespace {

using models::Milestone;
using models::Surroundings;
using test::now;

// A bay with days and nights of 2 K about its mean, off by so many kelvin and so much of its vapour within
// half a day.
struct Bay {
  double mean_c, humidity;
  [[nodiscard]] Surroundings at(double hours, double kelvin = 0.0, double vapour = 0.0) const {
    const double lasting = 1.0 - std::exp(-hours / 12.0);
    const double celsius = mean_c + 2.0 * std::sin(hours / 12.0 * std::numbers::pi) + kelvin * lasting;
    const double pascal =
        humidity * models::saturation_pressure(models::Celsius{mean_c}).value() * (1.0 + vapour * lasting);
    const double of_saturated = pascal / models::saturation_pressure(models::Celsius{celsius}).value();
    return test::air(celsius, std::min(0.97, of_saturated));
  }
  [[nodiscard]] std::vector<Surroundings> ahead(double kelvin, double vapour) const {
    std::vector<Surroundings> air;
    for (int step = 0; step <= 6 * 72; ++step) {
      air.push_back(at(step / 6.0, kelvin, vapour));
    }
    return air;
  }
  // Stroud's star: 1.5 K, and an eighth of the vapour.
  [[nodiscard]] std::vector<models::WeightedCourse> courses() const {
    const double far = std::numbers::sqrt3;
    return {{1.0 / 3.0, ahead(0.0, 0.0)},
            {1.0 / 6.0, ahead(1.5 * far, 0.06 * far)},
            {1.0 / 6.0, ahead(-1.5 * far, -0.06 * far)},
            {1.0 / 6.0, ahead(0.0, 0.125 * far)},
            {1.0 / 6.0, ahead(0.0, -0.125 * far)}};
  }
};

// Gone through each course by itself.
double exactly(Milestone which, const models::LaidPiece& laid,
               const std::vector<models::WeightedCourse>& courses, double hours) {
  const models::ShopLevels levels;
  const auto nodes = models::ShopBelief(levels).nodes("film");
  double sum = 0.0;
  for (const auto& [weight, air] : courses) {
    models::LaidPiece piece(laid);
    const double steps = hours * 6.0;
    const auto whole = static_cast<std::size_t>(steps);
    piece.advance(std::span{air}.first(whole + 1), models::Seconds{test::forecast_step});
    if (const double rest = steps - static_cast<double>(whole); rest > 0.0) {
      piece.advance(air[whole], air[std::min(whole + 1, air.size() - 1)],
                    models::Seconds{rest * test::forecast_step});
    }
    sum += weight * models::PieceReach(piece, {}, levels).chance(which, piece.trace(0).size() - 1, nodes);
  }
  return sum;
}

}  // namespace

namespace {

// What is known after an hour: the widest that courses lie apart.
std::vector<models::WeightedCourse> eleven_courses(const Bay& bay, const models::ColdStart& start) {
  models::AirOutlook outlook(start);
  const Surroundings first = bay.at(0.0);
  outlook.see({first.air.value(), first.humidity.value() * models::saturation_pressure(first.air).value()});
  return models::courses(outlook.forecast(73), 0.0, models::Seconds{test::forecast_step}, 6 * 72 + 1);
}

// As much as the nodes are allowed against four times as many, and five minutes.
void one_course_tells(const Bay& bay, const std::vector<models::WeightedCourse>& courses) {
  constexpr double within = 0.02, minutes = 5.0 / 60.0;
  models::LaidPiece laid(test::spec(), bay.at(0.0));
  auto task = test::task_of({});
  task.forecast = courses;
  OutlookTask::Item item{.id = 1, .film = "film", .piece = laid, .needed = {}, .said = {}};
  item.needed.fill(true);
  task.pieces.push_back(item);
  const auto outlook = answer(task);
  int told = 0;
  for (std::size_t which = 0; which < models::milestone_kinds; ++which) {
    CAPTURE(which);
    const auto milestone = static_cast<Milestone>(which);
    const auto& spread = outlook.pieces[0].reach[which].expected;
    for (const auto& [at, level] :
         {std::pair{spread.early, 0.1}, std::pair{spread.likely, 0.5}, std::pair{spread.late, 0.9}}) {
      if (!at) continue;
      const double hours = seconds_between(now, *at) / 3600.0;
      CAPTURE_BOUND(level);
      CAPTURE(hours);
      CHECK(exactly(milestone, laid, courses, hours * (1.0 - within) - minutes) < level);
      CHECK(exactly(milestone, laid, courses, hours * (1.0 + within) + minutes) > level);
      ++told;
    }
  }
  CHECK(told >= 10);
}

}  // namespace

TEST_CASE("one course tells of five: early, likely and late come when they do in each by itself") {
  for (const Bay bay : {Bay{20.0, 0.5}, Bay{10.0, 0.6}, Bay{20.0, 0.7}}) {
    CAPTURE(bay.mean_c);
    CAPTURE(bay.humidity);
    one_course_tells(bay, bay.courses());
  }
}

TEST_CASE("and of the eleven that an hour's air leaves, told that the bay is heated") {
  for (const Bay bay : {Bay{20.0, 0.5}, Bay{20.0, 0.7}}) {
    CAPTURE(bay.humidity);
    one_course_tells(bay, eleven_courses(bay, models::heated_start));
  }
}

TEST_CASE("and of the eleven that an hour's air leaves in any bay") {
  one_course_tells(Bay{15.0, 0.5}, eleven_courses(Bay{15.0, 0.5}, {}));
}

TEST_CASE("where other courses deliver more, the one gone through goes on with its last day") {
  const Bay bay{20.0, 0.5};
  auto task = test::task_of({});
  task.forecast = bay.courses();
  const AirAhead air(task);
  constexpr double hour = 3600.0;
  const Moments &moments = air.moments(), &through = air.gone_through();
  CHECK(moments.seconds(moments.size() - 1) == 72.0 * hour);
  CHECK(through.seconds(through.size() - 1) == 108.0 * hour);
  CHECK(air.delivered().size() == through.size());
  REQUIRE(air.air().size() == 649);
  CHECK(air.air()[500].air.value() == air.air()[500 - 144].air.value());
  // What happens half way through the third day in the weightiest happens sooner or later in the others.
  Curve sudden(through);
  std::size_t first = 0;
  while (through.seconds(first) < 60.0 * hour) ++first;
  for (std::size_t moment = first; moment < through.size(); ++moment) {
    sudden[moment] = 1.0;
  }
  const Curve all = air.over_courses(sudden);
  CHECK(all.at(40.0 * hour) == 0.0);
  CHECK(all[first - 1] > 0.3);
  CHECK(all[first - 1] < 0.4);  // the two that are faster
  CHECK(all[first] == doctest::Approx(2.0 / 3.0));
  for (std::size_t moment = 1; moment < moments.size(); ++moment) {
    CHECK(all[moment] >= all[moment - 1]);
  }
}

TEST_CASE("moments stand half an hour apart, later a fortieth of the time from now") {
  const Moments moments(289, models::Seconds{900.0});
  std::size_t half_hours = 0;
  for (std::size_t moment = 1; moment < moments.size(); ++moment) {
    const double before = moments.seconds(moment - 1), apart = moments.seconds(moment) - before;
    CHECK(apart <= std::max(1800.0, before / 40.0));
    half_hours += apart == 1800.0 ? 1 : 0;
  }
  CHECK(half_hours >= 80);
  CHECK(moments.size() < 115);
  CHECK(moments.seconds(moments.size() - 1) == 72.0 * 3600.0);
}

TEST_CASE("without a forecast there is but now") {
  auto task = test::task_of({});
  task.forecast.clear();
  const AirAhead air(task);
  CHECK_FALSE(air.foretold());
  Curve now_only(air.gone_through());
  now_only[0] = 0.25;
  CHECK(air.over_courses(now_only)[0] == 0.25);
}

TEST_CASE("where the air dries nothing time still passes") {
  auto task = test::task_of({});
  task.forecast = {{1.0, std::vector(433, test::air(10.0, 1.0))}};
  const AirAhead air(task);
  const auto delivered = air.delivered();
  for (std::size_t moment = 1; moment < delivered.size(); ++moment) {
    CHECK(delivered[moment] > delivered[moment - 1]);
  }
  Curve sudden(air.gone_through());
  for (std::size_t moment = 50; moment < delivered.size(); ++moment) {
    sudden[moment] = 1.0;
  }
  CHECK(air.over_courses(sudden)[49] == doctest::Approx(0.0));
  CHECK(air.over_courses(sudden)[50] == doctest::Approx(1.0));
}

}  // namespace dryclock::compute
