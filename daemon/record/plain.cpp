#include "record/plain.hpp"

#include <algorithm>

namespace dryclock::record {
namespace {

// "words.zone-edge" is "edge".
Fact keyed(Fact fact) {
  for (Value& value : fact.values) {
    if (value.measure == Measure::word) {
      value = say::text(value.name, value.text.substr(value.text.find('-') + 1));
    }
    std::ranges::transform(value.facts, value.facts.begin(), keyed);
  }
  return fact;
}

}  // namespace

std::string Plain::operator()(const Fact& fact) const {
  return english_.fact(keyed(fact));
}

}  // namespace dryclock::record
