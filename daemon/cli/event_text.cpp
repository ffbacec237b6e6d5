#include "cli/event_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "domain/event_fields.hpp"
#include "domain/names.hpp"
#include "domain/piece_fact.hpp"

namespace dryclock::cli {
namespace {

using wording::Words;

// Where the words of an enumeration stand; empty: they are the same in every language (formulas, units).
template <class E>
constexpr std::string_view group_of{};
template <>
constexpr std::string_view group_of<Side> = "words.side-";
template <>
constexpr std::string_view group_of<models::ZoneKind> = "words.zone-";
template <>
constexpr std::string_view group_of<models::Wetness> = "words.wetness-";
template <>
constexpr std::string_view group_of<models::Finding> = "words.finding-";
template <>
constexpr std::string_view group_of<RecheckFinding> = "words.recheck-";
template <>
constexpr std::string_view group_of<HeatSource> = "words.heat-";
template <>
constexpr std::string_view group_of<models::Milestone> = "client-board.milestone-";
template <>
constexpr std::string_view group_of<PlateSign> = "words.plate-";
template <>
constexpr std::string_view group_of<Quantity> = "words.quantity-";
template <>
constexpr std::string_view group_of<models::SensorVerdict> = "client-sensors.verdict-";

// A balance tells hundredths; a correction is kept with all that it has.
constexpr int decimals_of(std::string_view name) {
  const bool hundredths =
      name.ends_with("grams") || name.ends_with("_g_m2") || name == "area_m2" || name == "spread";
  return name == "slope" || name == "offset" ? 4 : hundredths ? 2 : 1;
}

class FieldText {
 public:
  explicit FieldText(const Words& words) : words_(words) {}

  void type(std::string_view /*name*/, std::string_view /*what*/) const {}
  void apart(std::string_view /*name*/, std::string_view /*what*/) const {}
  void flat(const auto& what) { visit_fields(*this, what); }
  void operator()(std::string_view name, const auto& what, const auto&... /*marks*/) {
    const auto text = text_of(name, what);
    if (!text.empty()) {
      text_ += text_.empty() ? "" : ", ";
      text_ += words_.say("client-events." + std::string{name}, {say::text("value", text)});
    }
  }
  // A number that may be left out and is 0 was: no area that anybody gave, no heat of a lamp that is off.
  template <class T>
  void optional(std::string_view name, const T& what, const auto&... /*marks*/) {
    if constexpr (std::is_arithmetic_v<T>) {
      if (what == T{}) {
        return;
      }
    }
    (*this)(name, what);
  }

  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  [[nodiscard]] std::string text_of(std::string_view name, const std::string& text) const {
    return name == "panel"      ? words_.panel(text)
           : name == "film"     ? words_.film(text)
           : name == "solution" ? words_.solution(text)
           : name == "place"    ? words_.value(place_value(text))
                                : text;
  }
  [[nodiscard]] std::string text_of(std::string_view /*name*/, bool truth) const {
    return words_.say(truth ? "client.yes" : "client.no");
  }
  [[nodiscard]] std::string text_of(std::string_view /*name*/, std::integral auto number) const {
    return std::to_string(number);
  }
  // A field's name ends with its unit.
  [[nodiscard]] std::string text_of(std::string_view name, double number) const {
    if (name.ends_with("_c")) {
      return words_.temperature(number);
    }
    if (name == "resistance") {
      return words_.value(say::figure(name, Measure::resistance, number));
    }
    if (name.ends_with("_pct")) {
      return words_.value(say::humidity(name, number));
    }
    return name == "relative_uncertainty" ? words_.share(number) : words_.number(number, decimals_of(name));
  }
  [[nodiscard]] std::string text_of(std::string_view /*name*/, Unit unit) const {
    return words_.unit_symbol(unit);
  }
  [[nodiscard]] std::string text_of(std::string_view /*name*/, Time time) const {
    return words_.zone().date_clock(time);
  }
  template <class E>
  requires std::is_enum_v<E>
  [[nodiscard]] std::string text_of(std::string_view /*name*/, E value) const {
    const std::string word{name_of(value)};
    return group_of<E>.empty() ? word : words_.say(std::string{group_of<E>} + word);
  }
  [[nodiscard]] std::string text_of(std::string_view /*name*/, const PlannedPiece& piece) const {
    return words_.piece(piece);
  }
  // For the estimate, and for no person.
  [[nodiscard]] static std::string text_of(std::string_view /*name*/,
                                           const std::optional<PlateCourse>& /*course*/) {
    return {};
  }
  template <class T>
  [[nodiscard]] std::string text_of(std::string_view name, const std::optional<T>& maybe) const {
    return maybe ? text_of(name, *maybe) : "";
  }
  // Of many ways the likeliest.
  [[nodiscard]] std::string text_of(std::string_view name, const std::vector<TailPoint>& tail) const {
    return tail.empty() ? "" : text_of(name, *std::ranges::max_element(tail, {}, &TailPoint::likelihood));
  }
  template <class T>
  [[nodiscard]] std::string text_of(std::string_view name, const std::vector<T>& list) const {
    std::string all;
    for (const auto& one : list) {
      all += (all.empty() ? "" : " + ") + text_of(name, one);
    }
    return all;
  }
  template <class T>
  requires std::is_class_v<T>
  [[nodiscard]] std::string text_of(std::string_view /*name*/, const T& what) const {
    FieldText fields(words_);
    visit_fields(fields, what);
    return "(" + std::move(fields).text() + ")";
  }

  const Words& words_;
  std::string text_;
};

}  // namespace

std::string event_text(const EventDetail& detail, const Words& words) {
  FieldText fields(words);
  std::visit([&](const auto& event) { visit_fields(fields, event); }, detail);
  return std::move(fields).text();
}

}  // namespace dryclock::cli
