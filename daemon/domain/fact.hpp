// What is so, without words: the key of a message and the values that it speaks of. The engine tells facts;
// words are made of them at the edge (wording/ here, src/words on the page), in the language and the units of
// whoever reads them.
#pragma once

#include <cmath>
#include <concepts>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/time.hpp"
#include "domain/field.hpp"
#include "domain/measure.hpp"

namespace dryclock {

struct Fact;

struct Value {
  std::string name;  // in the message
  Measure measure = Measure::text;
  std::optional<double> number{};
  std::optional<Time> at{};
  std::string text{};
  std::vector<Fact> facts;  // without {}, for which a Fact would have to be known already
  bool operator==(const Value&) const = default;
};

struct Fact {
  std::string key;  // of the catalogue of messages: "alerts.bay-cold"; empty: nothing is said
  std::vector<Value> values{};
  std::string words{};  // in the shop's language and units; empty until wording has made them
  bool operator==(const Fact& other) const { return key == other.key && values == other.values; }
};

void visit_fields(auto& f, Of<Value> auto& s) {
  f.type("Value", "what a fact speaks of");
  f("name", s.name, "in the message");
  f("measure", s.measure, "what it is, and so its unit");
  f.optional("number", s.number);
  f.optional("at", s.at);
  f.optional("text", s.text);
  f.optional("facts", s.facts);
}
void visit_fields(auto& f, Of<Fact> auto& s) {
  f.type("Fact", "what is so: a message of the catalogue and what it speaks of");
  f("key", s.key, "of the message; empty: nothing is said");
  f("values", s.values);
  f.optional("words", s.words, "in the shop's language and units");
}
template <>
inline constexpr bool written_brief<Value> = true;
template <>
inline constexpr bool written_brief<Fact> = true;

// As many decimals as anyone can act on: two figures ("0.25", "3.1", "12"). Facts carry what is said, so that
// one that reads the same is the same.
[[nodiscard]] inline int decimals_of_figure(double value) {
  const double size = std::abs(value);
  return size >= 10.0 ? 0 : size >= 1.0 ? 1 : 2;
}
[[nodiscard]] inline double rounded_to(double value, int decimals) {
  const double scale = std::pow(10.0, decimals);
  return std::round(value * scale) / scale;
}

// Values by what they are. `name` is the one in the message.
namespace say {

[[nodiscard]] inline Value number(std::string_view name, Measure measure, double value) {
  return {std::string{name}, measure, value, {}, {}, {}};
}
[[nodiscard]] inline Value text(std::string_view name, std::string text) {
  return {std::string{name}, Measure::text, {}, {}, std::move(text), {}};
}
[[nodiscard]] inline Value word(std::string_view name, std::string key) {
  return {std::string{name}, Measure::word, {}, {}, std::move(key), {}};
}
[[nodiscard]] inline Value film(std::string_view name, std::string key) {
  return {std::string{name}, Measure::film, {}, {}, std::move(key), {}};
}
[[nodiscard]] inline Value solution(std::string_view name, std::string key) {
  return {std::string{name}, Measure::solution, {}, {}, std::move(key), {}};
}
[[nodiscard]] inline Value panel(std::string_view name, std::string key) {
  return {std::string{name}, Measure::panel, {}, {}, std::move(key), {}};
}
[[nodiscard]] inline Value facts(std::string_view name, std::vector<Fact> all) {
  return {std::string{name}, Measure::facts, {}, {}, {}, std::move(all)};
}
[[nodiscard]] inline Value fact(std::string_view name, Fact one) {
  return facts(name, {std::move(one)});
}
[[nodiscard]] inline Value time(std::string_view name, Time at) {
  return {std::string{name}, Measure::time, {}, at, {}, {}};
}
[[nodiscard]] inline Value count(std::string_view name, std::integral auto how_many) {
  return number(name, Measure::count, static_cast<double>(how_many));
}
[[nodiscard]] inline Value celsius(std::string_view name, double c) {
  return number(name, Measure::celsius, rounded_to(c, 1));
}
[[nodiscard]] inline Value kelvin(std::string_view name, double k) {
  return number(name, Measure::kelvin, rounded_to(k, 1));
}
[[nodiscard]] inline Value humidity(std::string_view name, double pct) {
  return number(name, Measure::humidity, rounded_to(pct, 1));
}
[[nodiscard]] inline Value humidity_change(std::string_view name, double pct) {
  return number(name, Measure::humidity_change, rounded_to(pct, 1));
}
// Two figures: water [g/m2], hours, pace, bond, resistance [m2 s Pa/kg] ...
[[nodiscard]] inline Value figure(std::string_view name, Measure measure, double value) {
  return number(name, measure, rounded_to(value, decimals_of_figure(value)));
}
[[nodiscard]] inline Value share(std::string_view name, double fraction, int decimals = 2) {
  return number(name, Measure::share, rounded_to(fraction, decimals));
}
[[nodiscard]] inline Value span(std::string_view name, Millis length) {
  return number(name, Measure::span, std::chrono::duration<double>(length).count());
}

}  // namespace say

}  // namespace dryclock
