#include "record/plain.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

namespace dryclock::record {
namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 4> letters_of{
    {{"°", ""}, {"²", "2"}, {"³", "3"}, {"µ", "u"}}};

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
  auto text = english_.fact(keyed(fact));
  for (const auto& [sign, letters] : letters_of) {
    for (auto at = text.find(sign); at != std::string::npos; at = text.find(sign, at)) {
      text.replace(at, sign.size(), letters);
    }
  }
  return text;
}

}  // namespace dryclock::record
