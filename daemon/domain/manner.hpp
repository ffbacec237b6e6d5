// How somebody is spoken to: in which language, on which temperature scale.
#pragma once

#include <cstdint>

#include "domain/field.hpp"

namespace dryclock {

enum class Language : std::uint8_t { english_uk, english_us, german };
enum class TemperatureScale : std::uint8_t { celsius, fahrenheit };

struct Manner {
  Language language = Language::english_uk;
  TemperatureScale temperature = TemperatureScale::celsius;
  bool operator==(const Manner&) const = default;
};
void visit_fields(auto& f, Of<Manner> auto& s) {
  f("language", s.language);
  f("temperature_unit", s.temperature);
}

}  // namespace dryclock
