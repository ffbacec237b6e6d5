// Each enumeration has as many words as it has values: a word that is forgotten would shift those behind it.
#include <doctest/doctest.h>

#include "domain/names.hpp"
#include "domain/shown.hpp"

namespace dryclock {
namespace {

// The compiler names a value that has a name, and writes any other as a cast: "(Verdict)10".
template <auto value>
constexpr bool has_name() {
  const std::string_view told = __PRETTY_FUNCTION__;
  return told.find("value = (") == std::string_view::npos;
}
template <class E, std::size_t first = 0>
constexpr std::size_t values() {
  if constexpr (has_name<static_cast<E>(first)>()) {
    return values<E, first + 1>();
  } else {
    return first;
  }
}

template <class... E>
void check_words() {
  const auto check = [](std::size_t wanted, const auto& words) {
    CAPTURE(words.front());
    CHECK(words.size() == wanted);
    for (const auto word : words) {
      CHECK_FALSE(word.empty());
    }
  };
  (check(values<E>(), words<E>), ...);
}

}  // namespace

TEST_CASE("every value of an enumeration has its word") {
  enum class Three : std::uint8_t { one, two, three };
  static_assert(values<Three>() == 3);
  check_words<Quantity, Unit, RejectReason, Verdict, models::ZoneKind, models::Wetness, models::Finding,
              models::Sign, models::Milestone, HeatSource, RecheckFinding, models::Salt,
              models::SensorVerdict, AlertLevel, ClockFault, CatalogueKind, SensorOrigin, TopicKind, Language,
              TemperatureScale, Measure, AlertRule, ShownWhy, AlertStep>();
}

TEST_CASE("what is counted by an enumeration has room for each of its values") {
  CHECK(values<Verdict>() == verdicts);
  CHECK(values<RejectReason>() == reject_reasons);
  CHECK(values<models::ZoneKind>() == models::zone_kinds);
  CHECK(values<models::Milestone>() == models::milestone_kinds);
  CHECK(values<Quantity>() == quantity_kinds);
  CHECK(values<models::Wetness>() == WaterTable::value_type{}.size());
}

}  // namespace dryclock
