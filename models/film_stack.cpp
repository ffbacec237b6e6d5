#include "models/film_stack.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/air_layer.hpp"
#include "models/film_modes.hpp"
#include "models/humid_air.hpp"
#include "models/pace.hpp"

namespace dryclock::models {
namespace {

constexpr double grams_in_kg = 1000.0;
constexpr std::size_t cells_a_sheet = 48;
constexpr double shortest = 1e-6;  // s, below which a step is taken whatever its error
constexpr double longest = 900.0;  // s

// Cells grow towards the middle of a sheet, since what happens at its faces is steepest.
std::vector<double> cell_widths(double thickness) {
  std::vector<double> widths(cells_a_sheet);
  const auto face = [&](std::size_t i) {
    const double x = static_cast<double>(i) / static_cast<double>(cells_a_sheet);
    return thickness * (0.25 * x + 0.75 * x * x * (3.0 - 2.0 * x));
  };
  for (std::size_t i = 0; i < cells_a_sheet; ++i) {
    widths[i] = face(i + 1) - face(i);
  }
  return widths;
}

// Thomas algorithm for: (diagonal) x_i - below_i x_(i-1) - below_(i+1) x_(i+1) = right_i.
std::vector<double> solve_tridiagonal(std::vector<double> diagonal, const std::vector<double>& below,
                                      std::vector<double> right) {
  const std::size_t n = diagonal.size();
  for (std::size_t i = 1; i < n; ++i) {
    const double factor = below[i] / diagonal[i - 1];
    diagonal[i] -= factor * below[i];
    right[i] += factor * right[i - 1];
  }
  right[n - 1] /= diagonal[n - 1];
  for (std::size_t i = n - 1; i-- > 0;) {
    right[i] = (right[i] + below[i + 1] * right[i + 1]) / diagonal[i];
  }
  return right;
}

}  // namespace

FilmStackSolver::FilmStackSolver(const FilmStack& stack, const WaterLayer& layer, GramsPerSquareMetre water,
                                 MetresPerSecond air_layer, const Surroundings& at_lay, double tolerance)
    : layer_(layer),
      air_layer_(air_layer),
      tolerance_(tolerance),
      dry_after_(std::numeric_limits<double>::infinity()) {
  std::uint8_t validity = valid;
  stack_ = clamped(stack, validity);
  for (std::size_t l = 0; l < stack_.layers.size(); ++l) {
    for (const double width : cell_widths(stack_.layers[l].thickness.value())) {
      holds_.push_back(stack_.layers[l].sorption * width * grams_in_kg);
      sheet_.push_back(l);
      half_.push_back(0.5 * width);
    }
  }
  outside_ = coefficients(at_lay).outside;
  fields_.wet.assign(holds_.size(), outside_);
  fields_.mean = fields_.wet;
  fields_.water = std::max(0.0, water.value());
}

double FilmStackSolver::wetted(double water) const {
  return std::clamp(water / layer_.break_up, 0.0, 1.0);
}

FilmStackSolver::Coefficients FilmStackSolver::coefficients(const Surroundings& given) const {
  const Surroundings air = clamped(given);
  const Celsius panel = std::isnan(air.panel_c) ? air.air : Celsius{air.panel_c};
  const double saturated = saturation_pressure(panel).value();
  std::vector<double> conductivity;  // g/(m s), of each layer
  for (const Layer& layer : stack_.layers) {
    conductivity.push_back(layer.permeability.value() * permeability_ratio(panel, layer.activation_energy) *
                           saturated * grams_in_kg);
  }
  Coefficients c;
  double resistance = 0.0;  // from the last cell's middle
  for (std::size_t i = 0; i < holds_.size(); ++i) {
    const double half = half_[i] / conductivity[sheet_[i]];
    c.conductance.push_back(1.0 / (resistance + half));
    resistance = half;
  }
  const double air_layer = air_resistance(air_layer_, air.air).value();
  c.conductance.push_back(1.0 / (resistance + air_layer / (saturated * grams_in_kg)));
  c.outside = std::min(1.0, activity_at_panel(panel, air.air, air.humidity));
  return c;
}

FilmStackSolver::Rates FilmStackSolver::rates(const Fields& fields, const Coefficients& c) const {
  const std::size_t n = holds_.size();
  Rates rates;
  rates.wet.assign(n, 0.0);
  rates.mean.assign(n, 0.0);
  const double into_film = c.conductance[0] * (1.0 - fields.wet[0]);
  rates.water = -wetted(fields.water) * into_film;
  double wet_in = into_film;
  double mean_in = -rates.water;
  for (std::size_t i = 0; i < n; ++i) {
    const bool last = i + 1 == n;
    const double wet_out = c.conductance[i + 1] * (fields.wet[i] - (last ? c.outside : fields.wet[i + 1]));
    const double mean_out = c.conductance[i + 1] * (fields.mean[i] - (last ? c.outside : fields.mean[i + 1]));
    rates.wet[i] = wet_in - wet_out;
    rates.mean[i] = mean_in - mean_out;
    wet_in = wet_out;
    mean_in = mean_out;
  }
  rates.evaporated = mean_in;
  return rates;
}

FilmStackSolver::Fields FilmStackSolver::solve(const Fields& known, const Coefficients& c,
                                               double weight) const {
  const std::size_t n = holds_.size();
  std::vector<double> below(n);
  std::vector<double> diagonal(n);
  std::vector<double> right(n);
  for (std::size_t i = 0; i < n; ++i) {
    below[i] = i > 0 ? weight * c.conductance[i] : 0.0;
    diagonal[i] = holds_[i] + weight * (c.conductance[i] + c.conductance[i + 1]);
    const double inside = i == 0 ? weight * c.conductance[0] : 0.0;
    const double outside = i + 1 == n ? weight * c.conductance[n] * c.outside : 0.0;
    right[i] = holds_[i] * known.wet[i] + inside + outside;
  }
  Fields fields;
  fields.wet = solve_tridiagonal(diagonal, below, std::move(right));

  // water = known - weight * flux * min(1, water/w_c), for the water.
  const double flux = c.conductance[0] * (1.0 - fields.wet[0]);
  const double whole = known.water - weight * flux;
  fields.water = whole >= layer_.break_up ? whole : known.water / (1.0 + weight * flux / layer_.break_up);

  right.assign(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) {
    const double inside = i == 0 ? known.water - fields.water : 0.0;
    const double outside = i + 1 == n ? weight * c.conductance[n] * c.outside : 0.0;
    right[i] = holds_[i] * known.mean[i] + inside + outside;
    diagonal[i] -= i == 0 ? weight * c.conductance[0] : 0.0;
  }
  fields.mean = solve_tridiagonal(std::move(diagonal), below, std::move(right));
  fields.evaporated = known.evaporated + weight * c.conductance[n] * (fields.mean[n - 1] - c.outside);
  return fields;
}

// TR-BDF2 (Bank et al. 1985; error estimate of Hosea and Shampine 1996).
FilmStackSolver::Trial FilmStackSolver::step(const Surroundings& from, const Surroundings& to,
                                             double duration, double at, double length) const {
  const double gamma = 2.0 - std::sqrt(2.0);
  const double weight = 0.5 * gamma * length;
  const auto air = [&](double time) { return coefficients(between(from, to, time / duration)); };
  const Rates rates0 = rates(fields_, air(at));
  const Coefficients middle = air(at + gamma * length);
  const Coefficients end = air(at + length);

  const std::size_t n = holds_.size();
  Fields known = fields_;
  for (std::size_t i = 0; i < n; ++i) {
    known.wet[i] += weight * rates0.wet[i] / holds_[i];
    known.mean[i] += weight * rates0.mean[i] / holds_[i];
  }
  known.water += weight * rates0.water;
  known.evaporated += weight * rates0.evaporated;
  const Fields half = solve(known, middle, weight);

  const double forward = 1.0 / (gamma * (2.0 - gamma));
  const auto extrapolate = [&](double first, double second) {
    return forward * second + (1.0 - forward) * first;
  };
  for (std::size_t i = 0; i < n; ++i) {
    known.wet[i] = extrapolate(fields_.wet[i], half.wet[i]);
    known.mean[i] = extrapolate(fields_.mean[i], half.mean[i]);
  }
  known.water = extrapolate(fields_.water, half.water);
  known.evaporated = extrapolate(fields_.evaporated, half.evaporated);
  Trial trial;
  trial.fields = solve(known, end, weight);

  const Rates rates1 = rates(half, middle);
  const Rates rates2 = rates(trial.fields, end);
  const double k = (-3.0 * gamma * gamma + 4.0 * gamma - 2.0) / (12.0 * (2.0 - gamma));
  const auto missed = [&](double first, double second, double third) {
    return std::abs(2.0 * k * length *
                    (first / gamma - second / (gamma * (1.0 - gamma)) + third / (1.0 - gamma)));
  };
  for (std::size_t i = 0; i < n; ++i) {
    trial.error = std::max({trial.error, missed(rates0.wet[i], rates1.wet[i], rates2.wet[i]) / holds_[i],
                            missed(rates0.mean[i], rates1.mean[i], rates2.mean[i]) / holds_[i]});
  }
  trial.error = std::max(trial.error, missed(rates0.water, rates1.water, rates2.water));
  return trial;
}

void FilmStackSolver::advance(const Surroundings& from, const Surroundings& to, Seconds duration) {
  const double seconds = duration.value();
  for (double at = 0.0; seconds - at > 1e-9 * seconds;) {
    double length = std::min({trial_length_, longest, seconds - at});
    Trial trial = step(from, to, seconds, at, length);
    while (trial.error > tolerance_ && length > shortest) {
      length *= std::max(0.2, 0.9 * std::cbrt(tolerance_ / trial.error));
      trial = step(from, to, seconds, at, length);
    }
    if (trial.fields.water <= layer_.dry_limit && std::isinf(dry_after_)) {
      const auto at_water = [&](double water) { return layer_.coordinate(std::max(water, 1e-9)); };
      const double passed = at_water(fields_.water) - at_water(trial.fields.water);
      const double needed = at_water(fields_.water) - at_water(layer_.dry_limit);
      dry_after_ = elapsed_ + (passed > 0.0 ? length * needed / passed : 0.0);
    }
    fields_ = std::move(trial.fields);
    at += length;
    elapsed_ += length;
    const double growth = trial.error > 0.0 ? 0.9 * std::cbrt(tolerance_ / trial.error) : 4.0;
    const double next = length * std::clamp(growth, 0.3, 4.0);
    // A step cut short by the end of the interval says nothing against a longer one.
    trial_length_ = length < trial_length_ && next > length ? std::max(next, trial_length_) : next;
  }
  outside_ = coefficients(to).outside;
}

double FilmStackSolver::water() const {
  return std::max(0.0, fields_.water);
}

double FilmStackSolver::film_water() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < holds_.size(); ++i) {
    sum += holds_[i] * fields_.mean[i];
  }
  return sum;
}

double FilmStackSolver::excess() const {
  double at_rest = 0.0;
  for (const double holds : holds_) {
    at_rest += holds * outside_;
  }
  return film_water() - at_rest;
}

double FilmStackSolver::evaporated() const {
  return fields_.evaporated;
}
bool FilmStackSolver::dry() const {
  return std::isfinite(dry_after_);
}
double FilmStackSolver::dry_after() const {
  return dry_after_;
}

}  // namespace dryclock::models
