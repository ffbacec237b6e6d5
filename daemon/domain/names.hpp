// The words in which enumerations appear in JSON, the database, TOML and on the command line.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string_view>
#include <utility>

#include "domain/announced.hpp"
#include "domain/answers.hpp"
#include "domain/event.hpp"
#include "domain/fact.hpp"
#include "domain/manner.hpp"
#include "domain/milestones.hpp"
#include "domain/redated.hpp"
#include "domain/sensor_search.hpp"
#include "domain/types.hpp"
#include "domain/view.hpp"
#include "models/milestone.hpp"

namespace dryclock {

// The words of an enumeration, in the order of its values.
template <class E>
inline constexpr std::array<std::string_view, 0> words{};

// The words of a table of traits.
template <class Traits, std::size_t size>
[[nodiscard]] constexpr std::array<std::string_view, size> words_in(const std::array<Traits, size>& table) {
  std::array<std::string_view, size> out;
  std::ranges::transform(table, out.begin(), &Traits::word);
  return out;
}

template <>
inline constexpr auto words<Quantity> = words_in(quantity_traits);
template <>
inline constexpr auto words<Unit> = unit_words;
template <>
inline constexpr std::array words<RejectReason>{
    std::string_view{"unknown-topic"}, std::string_view{"too-large"},    std::string_view{"not-json"},
    std::string_view{"no-such-field"}, std::string_view{"not-a-number"}, std::string_view{"not-finite"},
    std::string_view{"bad-time"},      std::string_view{"bad-event"}};
template <>
inline constexpr std::array words<Verdict>{
    std::string_view{"ok"},           std::string_view{"duplicate"}, std::string_view{"suspect-dup"},
    std::string_view{"retained"},     std::string_view{"late"},      std::string_view{"skewed"},
    std::string_view{"implausible"},  std::string_view{"spike"},     std::string_view{"stuck"},
    std::string_view{"being-checked"}};
template <>
inline constexpr std::array words<models::ZoneKind>{std::string_view{"field"}, std::string_view{"edge"},
                                                    std::string_view{"recess"}, std::string_view{"turn"}};
template <>
inline constexpr std::array words<models::Wetness>{std::string_view{"dry-pulled"}, std::string_view{"usual"},
                                                   std::string_view{"wet"}, std::string_view{"pooled"}};
template <>
inline constexpr std::array words<models::Finding>{std::string_view{"wet"}, std::string_view{"hazy"},
                                                   std::string_view{"clear"}, std::string_view{"lifting"}};
template <>
inline constexpr std::array words<models::Sign>{
    std::string_view{"wet"},      std::string_view{"hazy"},      std::string_view{"clear"},
    std::string_view{"held"},     std::string_view{"lifted"},    std::string_view{"mostly-wet"},
    std::string_view{"half-wet"}, std::string_view{"tenth-wet"}, std::string_view{"none-wet"}};
template <>
inline constexpr std::array words<PlateSign>{std::string_view{"mostly-wet"}, std::string_view{"half-wet"},
                                             std::string_view{"tenth-wet"}, std::string_view{"none-wet"}};
template <>
inline constexpr std::array words<Word>{std::string_view{"look"}, std::string_view{"ready"},
                                        std::string_view{"taken-back"}};
template <>
inline constexpr auto words<models::Milestone> = words_in(milestone_traits);
template <>
inline constexpr std::array words<Side>{std::string_view{"left"},       std::string_view{"right"},
                                        std::string_view{"front"},      std::string_view{"rear"},
                                        std::string_view{"upper"},      std::string_view{"lower"},
                                        std::string_view{"left-front"}, std::string_view{"right-front"},
                                        std::string_view{"left-rear"},  std::string_view{"right-rear"}};
template <>
inline constexpr std::array words<HeatSource>{std::string_view{"heat-gun"}, std::string_view{"lamp"},
                                              std::string_view{"sun"}};
template <>
inline constexpr std::array words<RecheckFinding>{std::string_view{"sound"}, std::string_view{"lifting"},
                                                  std::string_view{"redone"}};
// Chemical formulas: the same in every language.
template <>
inline constexpr std::array words<models::Salt>{std::string_view{"LiCl"},  std::string_view{"MgCl2"},
                                                std::string_view{"K2CO3"}, std::string_view{"NaCl"},
                                                std::string_view{"KCl"},   std::string_view{"K2SO4"}};
template <>
inline constexpr std::array words<models::SensorVerdict>{
    std::string_view{"agrees"}, std::string_view{"doubtful"}, std::string_view{"off"}};
template <>
inline constexpr std::array words<AlertLevel>{std::string_view{"news"}, std::string_view{"warning"},
                                              std::string_view{"urgent"}};
template <>
inline constexpr std::array words<ClockFault>{std::string_view{"stepped"}, std::string_view{"ahead"},
                                              std::string_view{"behind"}, std::string_view{"told"}};
template <>
inline constexpr std::array words<StepState>{std::string_view{"drying"}, std::string_view{"look"},
                                             std::string_view{"ready"}};
template <>
inline constexpr std::array words<WaitKind>{std::string_view{"look"}, std::string_view{"early"},
                                            std::string_view{"silent"}};
template <>
inline constexpr std::array words<CatalogueKind>{std::string_view{"film"}, std::string_view{"panel"},
                                                 std::string_view{"solution"}};
template <>
inline constexpr std::array words<SensorOrigin>{std::string_view{"file"}, std::string_view{"assigned"}};
template <>
inline constexpr std::array words<TopicKind>{std::string_view{"readings"}, std::string_view{"availability"},
                                             std::string_view{"other"}, std::string_view{"taken"}};
template <>
inline constexpr std::array words<Language>{std::string_view{"en-GB"}, std::string_view{"en-US"},
                                            std::string_view{"de"}};
template <>
inline constexpr std::array words<Measure>{
    std::string_view{"text"},     std::string_view{"word"},       std::string_view{"film"},
    std::string_view{"solution"}, std::string_view{"panel"},      std::string_view{"facts"},
    std::string_view{"count"},    std::string_view{"C"},          std::string_view{"K"},
    std::string_view{"%RH"},      std::string_view{"%RH-change"}, std::string_view{"g/m2"},
    std::string_view{"h"},        std::string_view{"1"},          std::string_view{"share"},
    std::string_view{"s"},        std::string_view{"time"},       std::string_view{"ppm"},
    std::string_view{"g"},        std::string_view{"m3"},         std::string_view{"byte"},
    std::string_view{"m/s"},      std::string_view{"m2 s Pa/kg"}};
template <>
inline constexpr std::array words<TemperatureScale>{std::string_view{"C"}, std::string_view{"F"}};
template <>
inline constexpr auto words<AlertRule> = alert_rule_names;

template <class E>
[[nodiscard]] constexpr std::string_view name_of(E value) {
  static_assert(words<E>.size() > 0, "this enumeration has no words");
  return words<E>[static_cast<std::size_t>(value)];
}

template <class E>
[[nodiscard]] constexpr std::optional<E> from_name(std::string_view word) {
  static_assert(words<E>.size() > 0, "this enumeration has no words");
  for (std::size_t i = 0; i < words<E>.size(); ++i) {
    if (words<E>[i] == word) {
      return static_cast<E>(i);
    }
  }
  return std::nullopt;
}

// The flags that travel with a computed value (models::Validity). None is good.
inline constexpr std::array validity_names{
    std::pair{models::air_out_of_range, std::string_view{"air-out-of-range"}},
    std::pair{models::film_out_of_range, std::string_view{"film-out-of-range"}},
    std::pair{models::panel_too_hot, std::string_view{"panel-too-hot"}},
    std::pair{models::condensing, std::string_view{"condensing"}},
    std::pair{models::bridged_gap, std::string_view{"bridged-gap"}},
};

}  // namespace dryclock
