#include "models/quantiles.hpp"

#include <algorithm>
#include <cmath>

namespace dryclock::models {

Quantiles quantiles(std::vector<Weighed> values) {
  std::erase_if(values, [](const Weighed& one) { return !(one.weight > 0.0); });
  if (values.empty()) return {};
  std::ranges::sort(values, {}, &Weighed::value);
  double all = 0.0;
  for (Weighed& one : values) {
    const double weight = one.weight;
    one.weight = all + 0.5 * weight;  // from now on: where its middle lies
    all += weight;
  }
  const auto at = [&](double share) {
    const double target = share * all;
    const auto above = std::ranges::upper_bound(values, target, {}, &Weighed::weight);
    if (above == values.begin()) return values.front().value;
    if (above == values.end()) return values.back().value;
    const Weighed& low = *(above - 1);
    if (!std::isfinite(above->value) || !std::isfinite(low.value)) return above->value;
    return low.value + (above->value - low.value) * (target - low.weight) / (above->weight - low.weight);
  };
  return {at(0.1), at(0.5), at(0.9)};
}

}  // namespace dryclock::models
