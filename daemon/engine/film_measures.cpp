#include "engine/film_measures.hpp"

#include <algorithm>

namespace dryclock::engine {

double resistance_of(const models::FilmStack& stack) {
  double sum = 0.0;
  for (const auto& layer : stack.layers) {
    sum += layer.thickness.value() / layer.permeability.value();
  }
  return sum;
}

void FilmMeasures::rebuild(const std::vector<Event>& standing) {
  films_.clear();
  worlds_.clear();
  const auto weigh = [&](std::vector<double> likelihoods) {
    if (!likelihoods.empty()) {
      worlds_.push_back(std::move(likelihoods));
    }
  };
  for (const auto& event : standing) {
    if (const auto* measured = std::get_if<FilmMeasured>(&event.detail)) {
      films_.push_back({event.seq, event.at, *measured});
      weigh(models::world_likelihoods(tail_of(*measured)));
    } else if (const auto* bond = std::get_if<BondMeasured>(&event.detail)) {
      weigh(models::bond_likelihoods(strips_of(*bond)));
    }
  }
  std::ranges::stable_sort(films_, {}, &MeasuredFilm::at);
}

const MeasuredFilm* counts_for(const std::vector<MeasuredFilm>& measured, const std::string& film,
                               const std::string& lot, Time laid) {
  const MeasuredFilm* found = nullptr;
  for (const auto& one : measured) {
    const bool of_lot = !one.film.lot.empty() && one.film.lot == lot;
    const bool counts = one.at <= laid && one.film.film == film && (of_lot || one.film.lot.empty());
    const bool better = found == nullptr || of_lot || found->film.lot.empty();
    if (counts && better) {
      found = &one;
    }
  }
  return found;
}

std::vector<models::TailPoint> tail_of(const FilmMeasured& measured) {
  std::vector<models::TailPoint> out;
  for (const auto& point : measured.tail) {
    out.push_back({point.spread, point.break_up_g_m2, point.likelihood});
  }
  return out;
}

std::vector<models::PulledStrip> strips_of(const BondMeasured& measured) {
  std::vector<models::PulledStrip> out;
  for (const auto& strip : measured.strips) {
    out.push_back({{strip.wlf_h * 3600.0, strip.arrhenius_h * 3600.0}, strip.peel});
  }
  return out;
}

models::FilmStack scaled(models::FilmStack stack, const FilmMeasured& measured) {
  const double catalogue = resistance_of(stack);
  if (!(catalogue > 0.0)) {
    return stack;
  }
  const double share = catalogue / measured.resistance;
  for (auto& layer : stack.layers) {
    layer.permeability = models::Permeability{layer.permeability.value() * share};
  }
  stack.ln_resistance_spread = std::max(least_measured_spread, measured.relative_uncertainty);
  return stack;
}

models::FilmStack FilmMeasures::stack_of(const FilmEntry& film, const std::string& lot, Time laid) const {
  const auto* found = counts_for(films_, film.key, lot, laid);
  return found == nullptr ? film.stack : scaled(film.stack, found->film);
}

Seq FilmMeasures::event_for(const std::string& film, const std::string& lot, Time laid) const {
  const auto* found = counts_for(films_, film, lot, laid);
  return found == nullptr ? 0 : found->event;
}

std::string belief_key(const std::string& film, Seq measurement) {
  return measurement == 0 ? film : film + "#" + std::to_string(measurement);
}

}  // namespace dryclock::engine
