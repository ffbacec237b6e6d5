// Words for people: facts and messages in one language and on one temperature scale. The messages stand in
// messages/*.json, in each language beside the others, and are shared with the page; their syntax is ICU's
// MessageFormat. Numbers, plurals, dates and lists are ICU's; the symbols of units are those of the SI, in
// messages/units.json.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/local_time.hpp"
#include "base/time.hpp"
#include "domain/fact.hpp"
#include "domain/manner.hpp"
#include "domain/names.hpp"
#include "domain/quantities.hpp"
#include "domain/setup.hpp"

namespace dryclock::wording {

// How instants are written: "Sat 7 Mar 14:20", or "Sat 2026-03-07 14:20".
enum class Dates : std::uint8_t { spoken, iso };

// What a catalogue's keys mean. Its lists must outlive this.
struct Entries {
  std::span<const FilmEntry> films{};
  std::span<const SolutionEntry> solutions{};
  std::span<const PanelEntry> panels{};
};
[[nodiscard]] Entries entries_of(const auto& catalogue) {
  return {catalogue.films, catalogue.solutions, catalogue.panels};
}

// Not to be used by two threads at once: make another.
class Words {
 public:
  // Throws std::runtime_error where a message cannot be read: the catalogue of messages is compiled in, so
  // that is a mistake of ours.
  Words(Manner manner, const Entries& entries, LocalZone zone, Dates dates = Dates::spoken);
  ~Words();
  Words(Words&&) noexcept;
  Words& operator=(Words&&) noexcept;

  [[nodiscard]] Manner manner() const;
  [[nodiscard]] const LocalZone& zone() const;

  // A message with its values; its key where the catalogue has none of that key. A value that the message
  // does not name is passed over, one that is missing stands as its name in braces.
  [[nodiscard]] std::string say(std::string_view key, const std::vector<Value>& values = {}) const;
  // A fact; one that a later program told, in the words it was told with. Empty for the empty fact.
  [[nodiscard]] std::string fact(const Fact& fact) const;
  // The same as a sentence of its own: it begins with a capital letter.
  [[nodiscard]] std::string sentence(const Fact& fact) const;
  // What a value is, by itself: "9.4 °C", "2 h 10 min", "front wing"; "-" where its number or time is
  // missing.
  [[nodiscard]] std::string value(const Value& value) const;
  // The word of an enumeration within a sentence: word("zone", ZoneKind::edge) is "edge".
  template <class E>
  [[nodiscard]] std::string word(std::string_view group, E of) const {
    return say(word_key(group, of));
  }

  // Numbers, shares and temperatures: "-" where it is none.
  [[nodiscard]] std::string number(double value, int decimals, bool is_signed = false) const;
  // With so many decimals, ungrouped: for columns and for what is looked up.
  [[nodiscard]] std::string fixed(double value, int decimals) const;
  [[nodiscard]] std::string decimal_sign() const;
  [[nodiscard]] std::string figure(double value) const;  // two figures: "0.25", "3.1", "12"
  [[nodiscard]] std::string share(double fraction, int decimals = 0) const;  // "87 %"
  [[nodiscard]] double in_scale(double celsius) const;                       // in the manner's degrees
  [[nodiscard]] std::string degree() const;                                  // "°C" or "°F"
  [[nodiscard]] std::string unit_symbol(Unit unit) const;                    // "°C", "%", "fraction"
  [[nodiscard]] std::string temperature(double celsius) const;
  [[nodiscard]] std::string difference(double kelvin) const;
  // "3 days 4 h", "2 h 10 min", "45 s": what is left over is dropped. With a minus where it is below 0.
  [[nodiscard]] std::string span(Millis length) const;
  // By a key of its catalogue; one that is not there stands as it is.
  [[nodiscard]] std::string film(std::string_view key) const;
  [[nodiscard]] std::string solution(std::string_view key) const;
  [[nodiscard]] std::string panel(std::string_view key) const;
  [[nodiscard]] std::string piece(const PlannedPiece& name) const;  // "left front wing", "roof 1/2"
  // Local, as Dates has it.
  [[nodiscard]] std::string when(Time at) const;
  // "Sat 14:20"; with the date where the weekday would be ambiguous.
  [[nodiscard]] std::string when(Time at, Time now) const;

  // "words.zone-edge"
  template <class E>
  [[nodiscard]] static std::string word_key(std::string_view group, E of) {
    return "words." + std::string{group} + "-" + std::string{name_of(of)};
  }

 private:
  [[nodiscard]] std::string measured(Measure measure, double number) const;

  class Messages;
  std::unique_ptr<Messages> messages_;
};

// The word for an entry of a catalogue; the first where it has none of that language.
template <class Entry>
[[nodiscard]] const std::string& label_of(const Entry& entry, Language language) {
  const auto& own = language == Language::english_us ? entry.label_us
                    : language == Language::german   ? entry.label_de
                                                     : entry.label_uk;
  return own.empty() ? entry.label_uk : own;
}

// In upper case where that has one: "edge: ..." -> "Edge: ...". UTF-8.
[[nodiscard]] std::string capital(std::string_view text);

}  // namespace dryclock::wording
