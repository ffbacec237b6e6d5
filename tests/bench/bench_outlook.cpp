// How well the bay's air is foretold, on air that was measured: temperature, vapour pressure and the mean
// pace over the next hours, which is what drying feels. The outlook is set beside the one it follows
// (former_outlook.hpp), the plainest good rule (daily mean of a week + anomaly exp(-h/48 h)), what was
// yesterday and what is now, in the same run; these three are given the spread of their own errors in
// hindsight. Starts every seven hours after a fortnight of log.
//   bench_outlook [NAME]
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "air_series.hpp"
#include "crps.hpp"
#include "former_outlook.hpp"
#include "models/air_outlook.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"
#include "stopwatch.hpp"
#include "thermostat.hpp"

using namespace dryclock::models;
using namespace dryclock::bench;

namespace {

constexpr std::array<std::size_t, 4> told_at{12, 24, 48, 72};  // h ahead
constexpr std::size_t farthest = told_at.back();
constexpr std::size_t every = 7;  // h between starts
const Seconds an_hour{3600.0};

enum Quantity : std::size_t { temperature, vapour, pace_mean, quantities };
constexpr std::array<const char*, quantities> names{"temperature", "vapour", "pace"};
template <class T>
using Each = std::array<std::array<T, told_at.size()>, quantities>;

// The score of a rule, and how often what came lay in its band of 80 %.
struct Score {
  double crps = 0.0, inside = 0.0, count = 0.0;
  void add(double score, double came, double low, double high) {
    crps += score;
    inside += came >= low && came <= high ? 1.0 : 0.0;
    count += 1.0;
  }
  [[nodiscard]] double mean() const { return crps / count; }
  [[nodiscard]] double coverage() const { return inside / count; }
};

// A rule that tells one number: its score with the spread that its errors turn out to have.
struct Errors {
  std::vector<double> all;
  [[nodiscard]] double mean_crps() const {
    double squares = 0.0, sum = 0.0;
    for (const double error : all) {
      squares += error * error;
    }
    const double spread = std::sqrt(squares / static_cast<double>(all.size()));
    for (const double error : all) {
      sum += crps(0.0, spread, error);
    }
    return sum / static_cast<double>(all.size());
  }
};

// What is foretold of one window of hours, told at an hour, an hour and half a day and an hour later: the
// share of the first revision that the second takes back (the slope; Nordhaus 1987 asks that it be 0).
struct Revisions {
  static constexpr std::size_t later = 13, window_ends = 48;  // h after the first
  struct Told {
    double first = std::nan(""), second = std::nan(""), third = std::nan("");  // as each of the three
  };
  std::vector<Told> by_hour;

  [[nodiscard]] double taken_back() const {
    double both = 0.0, squares = 0.0;
    for (std::size_t i = 0; i + later < by_hour.size(); ++i) {
      const double revision = by_hour[i + 1].second - by_hour[i].first;
      const double after = by_hour[i + later].third - by_hour[i + 1].second;
      if (std::isnan(revision + after)) continue;
      both += revision * after;
      squares += revision * revision;
    }
    return -100.0 * both / squares;
  }
};

// The former rule was fed every thirtieth minute, and the newest five for now.
double thermostat_moves_former() {
  return farthest_move([](int minute) {
    std::vector<Surroundings> history;
    for (int m = minute % 30; m <= minute; m += 30) {
      history.push_back(thermostat_air(m));
    }
    const Outlook former = outlook(history, Seconds{1800.0}, Seconds{72.0 * 3600.0}, Seconds{300.0});
    return dry_after(former.likely);
  });
}

struct Results {
  Each<Score> now, former;
  Each<Errors> plain, yesterday, held;
  Revisions revisions, former_revisions;
};

// One rule's answer: hourly values and courses of air, entry 0 now.
struct Told {
  std::vector<double> temperature, temperature_spread, vapour, vapour_spread;
  std::vector<WeightedCourse> courses;
};

Told told(const AirOutlook& outlook) {
  const AirForecast air = outlook.forecast(farthest);
  return {air.temperature.mean, air.temperature.spread, air.vapour.mean, air.vapour.spread,
          courses(air, 0.0, an_hour, farthest + 1)};
}

Told told_before(const AirSeries& series, std::size_t now, std::size_t log = log_before) {
  std::vector<Surroundings> history;
  for (std::size_t i = now - log; i <= now; ++i) {
    history.push_back(series.at(i));
  }
  const Outlook air = outlook(history, an_hour, Seconds{static_cast<double>(farthest) * 3600.0}, an_hour);
  Told out;
  out.temperature_spread = air.temperature_spread;
  out.vapour_spread = air.vapour_spread;
  for (const Surroundings& then : air.likely) {
    out.temperature.push_back(then.air.value());
    out.vapour.push_back(vapour_pressure(then.air, then.humidity).value());
  }
  out.courses = courses(air);
  return out;
}

// Of a course over the hours after `from` up to `to`.
double pace_over(const WeightedCourse& course, std::size_t from, std::size_t to) {
  double sum = 0.0;
  for (std::size_t h = from + 1; h <= to; ++h) {
    sum += pace_of(course.air[h]);
  }
  return sum / static_cast<double>(to - from);
}

double expected_pace(const Told& told, std::size_t from, std::size_t to) {
  double sum = 0.0;
  for (const WeightedCourse& course : told.courses) {
    sum += course.weight * pace_over(course, from, to);
  }
  return sum;
}

// The window that ends so many hours after the first telling, seen from each of the three.
Revisions::Told window_told(const Told& told) {
  constexpr std::size_t begins = Revisions::later, ends = Revisions::window_ends;
  return {expected_pace(told, begins, ends), expected_pace(told, begins - 1, ends - 1),
          expected_pace(told, 0, ends - begins)};
}

double pace_that_came(const AirSeries& series, std::size_t now, std::size_t hours) {
  double sum = 0.0;
  for (std::size_t h = 1; h <= hours; ++h) {
    sum += series.pace[now + h];
  }
  return sum / static_cast<double>(hours);
}

void score(Each<Score>& scores, const Told& told, const AirSeries& series, std::size_t now) {
  for (std::size_t k = 0; k < told_at.size(); ++k) {
    const std::size_t h = told_at[k];
    const auto normal = [&](Quantity quantity, double mean, double spread, double came) {
      const double reach = 1.2815515655446004 * spread;
      scores[quantity][k].add(crps(mean, spread, came), came, mean - reach, mean + reach);
    };
    normal(temperature, told.temperature[h], told.temperature_spread[h], series.temperature[now + h]);
    normal(vapour, told.vapour[h], told.vapour_spread[h], series.vapour[now + h]);
    std::vector<Weighed> paces;
    for (const WeightedCourse& course : told.courses) {
      paces.push_back({pace_over(course, 0, h), course.weight});
    }
    const Quantiles band = quantiles(paces);
    const double came = pace_that_came(series, now, h);
    scores[pace_mean][k].add(crps(paces, came), came, band.low, band.high);
  }
}

// What a plain rule says of a value `lead` hours after `now`.
using Rule = double (*)(const std::vector<double>& values, std::size_t now, std::size_t lead);
double held_as_it_is(const std::vector<double>& values, std::size_t now, std::size_t /*lead*/) {
  return values[now];
}
double as_yesterday(const std::vector<double>& values, std::size_t now, std::size_t lead) {
  return values[now + lead - 24 * ((lead + 23) / 24)];
}
double daily_mean(const std::vector<double>& values, std::size_t from) {
  double sum = 0.0;
  for (std::size_t d = 0; d < 7; ++d) {
    sum += values[from - 24 * d];
  }
  return sum / 7.0;
}
double plain_rule(const std::vector<double>& values, std::size_t now, std::size_t lead) {
  const double anomaly = values[now] - daily_mean(values, now - 24);
  return daily_mean(values, now + lead - 24 * ((lead + 23) / 24)) +
         anomaly * std::exp(-static_cast<double>(lead) / 48.0);
}

void miss(Each<Errors>& errors, Rule rule, const AirSeries& series, std::size_t now) {
  double pace_sum = 0.0;
  std::size_t k = 0;
  for (std::size_t h = 1; h <= farthest; ++h) {
    const Celsius air{rule(series.temperature, now, h)};
    const double pressure = rule(series.vapour, now, h);
    pace_sum += pace(air, air, Humidity{std::min(1.0, pressure / saturation_pressure(air).value())});
    if (h != told_at[k]) continue;
    errors[temperature][k].all.push_back(series.temperature[now + h] - air.value());
    errors[vapour][k].all.push_back(series.vapour[now + h] - pressure);
    errors[pace_mean][k].all.push_back(pace_that_came(series, now, h) - pace_sum / static_cast<double>(h));
    ++k;
  }
}

Results judged(const AirSeries& series) {
  Results out;
  AirOutlook outlook;
  std::size_t silent = 0;
  for (std::size_t now = 0; now + farthest < series.last; ++now) {
    out.revisions.by_hour.emplace_back();
    out.former_revisions.by_hour.emplace_back();
    if (std::isnan(series.vapour[now])) {
      ++silent;
      continue;
    }
    outlook.pass(silent);
    silent = 0;
    outlook.see({series.temperature[now], series.vapour[now]});
    if (now < series.first || !series.known(now - log_before, now)) continue;
    const std::size_t turn = (now - series.first) % every;
    const bool starts = turn == 0 && series.known(now, now + farthest);
    const bool revises = turn == 0 || turn == 1 || turn == Revisions::later % every;
    if (!starts && !series.held_out) continue;
    const Told then = told(outlook);
    out.revisions.by_hour.back() = window_told(then);
    if (!starts && !revises) continue;  // the former outlook takes long
    const Told former = told_before(series, now);
    out.former_revisions.by_hour.back() = window_told(former);
    if (!starts) continue;
    score(out.now, then, series, now);
    score(out.former, former, series, now);
    miss(out.plain, plain_rule, series, now);
    miss(out.yesterday, as_yesterday, series, now);
    miss(out.held, held_as_it_is, series, now);
  }
  return out;
}

// A shop that has just been set up: so many hours of log and no more, at eighty places of the series.
void young(const AirSeries& series, std::size_t log, Each<Score>& now_scores, Each<Score>& former_scores) {
  constexpr std::size_t places = 80;
  for (std::size_t place = 0; place < places; ++place) {
    const std::size_t now =
        series.first + log + place * (series.last - series.first - log - farthest - 1) / places;
    if (!series.known(now - log, now + farthest)) continue;
    AirOutlook outlook;
    for (std::size_t i = now - log; i <= now; ++i) {
      outlook.see({series.temperature[i], series.vapour[i]});
    }
    score(now_scores, told(outlook), series, now);
    score(former_scores, told_before(series, now, log), series, now);
  }
}

// Names of figures: jfk_pace_crps_12, heated_room_vapour_coverage_48 ...
std::string key(const AirSeries& series) {
  std::string out = series.name;
  std::ranges::transform(out, out.begin(), [](char c) {
    return c == '-' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  });
  return series.held_out ? out : "chosen_on_" + out;
}

struct Extremes {
  double least = 1.0, most = 0.0;
  void add(double value) {
    least = std::min(least, value);
    most = std::max(most, value);
  }
};

void print(const AirSeries& series, const Results& results, Extremes& coverage) {
  for (std::size_t q = 0; q < quantities; ++q) {
    for (std::size_t k = 0; k < told_at.size(); ++k) {
      const Score& now = results.now[q][k];
      const std::string of = key(series) + "_" + names[q], at = "_" + std::to_string(told_at[k]);
      const auto ratio = [&](const std::string& what, double other) {
        figure((of + "_crps" + what + at).c_str(), now.mean() / other, "ratio");
      };
      ratio("", results.former[q][k].mean());
      ratio("_to_plain", results.plain[q][k].mean_crps());
      ratio("_to_yesterday", results.yesterday[q][k].mean_crps());
      ratio("_to_held", results.held[q][k].mean_crps());
      figure((of + "_coverage" + at).c_str(), now.coverage(), "share");
      figure((of + "_coverage_former" + at).c_str(), results.former[q][k].coverage(), "share");
      if (series.held_out) coverage.add(now.coverage());
    }
  }
  if (!series.held_out) return;
  figure((key(series) + "_taken_back").c_str(), results.revisions.taken_back(), "%");
  figure((key(series) + "_taken_back_former").c_str(), results.former_revisions.taken_back(), "%");
}

void print_young(const AirSeries& series) {
  for (const std::size_t log : std::array<std::size_t, 3>{1, 24, 72}) {
    Each<Score> now, former;
    young(series, log, now, former);
    for (std::size_t k = 0; k < told_at.size(); ++k) {
      const std::string of = key(series) + "_after_" + std::to_string(log) + "_h_pace_",
                        at = "_" + std::to_string(told_at[k]);
      figure((of + "crps" + at).c_str(), now[pace_mean][k].mean() / former[pace_mean][k].mean(), "ratio");
      figure((of + "coverage" + at).c_str(), now[pace_mean][k].coverage(), "share");
    }
  }
}

void measured_air() {
  Extremes coverage, taken_back;
  taken_back = {100.0, -100.0};
  for (const AirSeries& series : all_series()) {
    const Results results = judged(series);
    print(series, results, coverage);
    if (!series.held_out) continue;
    taken_back.add(results.revisions.taken_back());
    print_young(series);
  }
  if (coverage.most == 0.0) return;
  figure("coverage_min", coverage.least, "share");
  figure("coverage_max", coverage.most, "share");
  figure("taken_back_pct", taken_back.most, "%");
}

void cost() {
  AirOutlook outlook;
  for (int i = 0; i < 200; ++i) {
    outlook.see({18.0 + 0.1 * (i * 7 % 5), 900.0 + 3.0 * (i * 5 % 7)});
  }
  constexpr int hours = 240;
  figure("hour_of_air_us", 1e6 / hours * seconds_of([&] {
                             AirOutlook copy = outlook;
                             for (int i = 0; i < hours; ++i) {
                               copy.see({18.0 + 0.1 * (i * 7 % 5), 900.0 + 3.0 * (i * 5 % 7)});
                             }
                           }),
         "us");
  double sum = 0.0;
  figure("forecast_us", 1e6 * seconds_of([&] { sum += outlook.forecast(farthest).temperature.mean.back(); }),
         "us");
  const AirForecast forecast = outlook.forecast(farthest);
  figure("courses_us", 1e6 * seconds_of([&] {
                         sum += courses(forecast, 0.5, Seconds{300.0}, farthest * 12 + 1).front().weight;
                       }),
         "us");
  if (sum == 0.0) std::puts("");
}

}  // namespace

int main(int argc, char** argv) {
  const std::string only = argc > 1 ? argv[1] : "";
  if (!only.empty() && only != "outlook") return 0;
  cost();
  figure("thermostat_h", thermostat_moves(), "h");
  figure("thermostat_former_h", thermostat_moves_former(), "h");
  measured_air();
  return 0;
}
