#include "wording/words.hpp"

#include <fmt/format.h>
#include <unicode/dcfmtsym.h>
#include <unicode/dtptngen.h>
#include <unicode/listformatter.h>
#include <unicode/msgfmt.h>
#include <unicode/numberformatter.h>
#include <unicode/smpdtfmt.h>
#include <unicode/timezone.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <stdexcept>

#include "domain/piece_fact.hpp"
#include "domain/view.hpp"
#include "wording/catalogue.hpp"

namespace dryclock::wording {
namespace {

using icu::UnicodeString;
UnicodeString wide(std::string_view text) {
  return UnicodeString::fromUTF8({text.data(), static_cast<std::int32_t>(text.size())});
}
std::string narrow(const UnicodeString& text) {
  std::string out;
  text.toUTF8String(out);
  return out;
}
void must(UErrorCode status, std::string_view what) {
  if (U_FAILURE(status) != 0) {
    throw std::runtime_error(fmt::format("{}: {}", what, u_errorName(status)));
  }
}

// Whether there is something to say: a JSON null, NaN, or what no count of seconds holds is none.
bool sayable(double number) {
  constexpr double most = 1e15;
  return std::abs(number) <= most;
}

// ICU refuses a plural of no number: this stands in for it, and a dash is written for it.
constexpr double no_count = 987'654'321'012'345.0;

icu::Formattable count_of(const Value& value) {
  const double number = value.number.value_or(no_count);
  return sayable(number) ? std::round(number) : no_count;
}

}  // namespace

// All that belongs to one language.
class Words::Messages {
 public:
  Messages(Manner how, const Entries& entries, LocalZone where, Dates dates)
      : manner(how),
        zone(where),
        locale_(std::string{name_of(how.language)}.c_str()),
        patterns_(patterns(how.language)),
        numbers_(icu::number::NumberFormatter::withLocale(locale_)) {
    keep_labels(CatalogueKind::film, entries.films);
    keep_labels(CatalogueKind::solution, entries.solutions);
    keep_labels(CatalogueKind::panel, entries.panels);
    UErrorCode status = U_ZERO_ERROR;
    lists_.reset(
        icu::ListFormatter::createInstance(locale_, ULISTFMT_TYPE_UNITS, ULISTFMT_WIDTH_SHORT, status));
    must(status, "lists");
    dates_ = dates == Dates::iso ? form("ccc yyyy-MM-dd HH:mm") : form(pattern("EEEdMMMjjmm"));
    days_ = form(pattern("EEEjjmm"));
  }

  [[nodiscard]] std::string number(double value, int decimals, bool is_signed) const {
    UErrorCode status = U_ZERO_ERROR;
    // Without a sign where nothing is left of it.
    const auto text = numbers_.precision(icu::number::Precision::maxFraction(decimals))
                          .sign(is_signed ? UNUM_SIGN_EXCEPT_ZERO : UNUM_SIGN_NEGATIVE)
                          .formatDouble(value, status)
                          .toString(status);
    must(status, "a number");
    return narrow(text);
  }

  [[nodiscard]] std::string fixed(double value, int decimals) const {
    UErrorCode status = U_ZERO_ERROR;
    const auto text = numbers_.precision(icu::number::Precision::fixedFraction(decimals))
                          .grouping(UNUM_GROUPING_OFF)
                          .sign(UNUM_SIGN_NEGATIVE)
                          .formatDouble(value, status)
                          .toString(status);
    must(status, "a number");
    return narrow(text);
  }

  [[nodiscard]] std::string decimal_sign() const {
    UErrorCode status = U_ZERO_ERROR;
    const icu::DecimalFormatSymbols symbols(locale_, status);
    must(status, "signs of numbers");
    return narrow(symbols.getSymbol(icu::DecimalFormatSymbols::kDecimalSeparatorSymbol));
  }

  [[nodiscard]] std::string joined(const std::vector<std::string>& parts) const {
    std::vector<UnicodeString> all;
    std::ranges::transform(parts, std::back_inserter(all), wide);
    UErrorCode status = U_ZERO_ERROR;
    UnicodeString text;
    lists_->format(all.data(), static_cast<std::int32_t>(all.size()), text, status);
    must(status, "a list");
    return narrow(text);
  }

  [[nodiscard]] std::string when(Time at) const { return dated(*dates_, at); }
  [[nodiscard]] std::string when(Time at, Time now) const {
    constexpr std::chrono::days ambiguous_from{6};  // as on the page: src/words
    return std::chrono::abs(at - now) < ambiguous_from ? dated(*days_, at) : when(at);
  }

  [[nodiscard]] bool knows(std::string_view key) const { return patterns_.contains(key); }

  [[nodiscard]] std::string label(CatalogueKind kind, std::string_view key) const {
    const auto& labels = labels_[static_cast<std::size_t>(kind)];
    const auto found = labels.find(key);
    return found == labels.end() ? std::string{key} : found->second;
  }

  [[nodiscard]] std::string format(std::string_view key, const std::vector<UnicodeString>& names,
                                   const std::vector<icu::Formattable>& values) {
    UErrorCode status = U_ZERO_ERROR;
    UnicodeString text;
    parsed(key).format(names.data(), values.data(), static_cast<std::int32_t>(names.size()), text, status);
    must(status, key);
    const bool any_none = std::ranges::any_of(
        values, [](const auto& one) { return one.isNumeric() && one.getDouble() == no_count; });
    return narrow(any_none ? text.findAndReplace(wide(number(no_count, 0, false)), "-") : text);
  }

  const Manner manner;
  const LocalZone zone;

 private:
  void keep_labels(CatalogueKind kind, const auto& entries) {
    for (const auto& entry : entries) {
      labels_[static_cast<std::size_t>(kind)].emplace(entry.key, label_of(entry, manner.language));
    }
  }
  // `skeleton`: what is to be told, whatever order and signs the language has for it.
  [[nodiscard]] UnicodeString pattern(const char* skeleton) const {
    UErrorCode status = U_ZERO_ERROR;
    const std::unique_ptr<icu::DateTimePatternGenerator> generator{
        icu::DateTimePatternGenerator::createInstance(locale_, status)};
    must(status, "dates");
    auto best = generator->getBestPattern(skeleton, status);
    must(status, "dates");
    return best;
  }
  [[nodiscard]] std::unique_ptr<icu::SimpleDateFormat> form(const UnicodeString& pattern) const {
    UErrorCode status = U_ZERO_ERROR;
    auto made = std::make_unique<icu::SimpleDateFormat>(pattern, locale_, status);
    must(status, "dates");
    made->adoptTimeZone(icu::TimeZone::createTimeZone("UTC"));
    return made;
  }
  // Local by the system's zone data, as all other times are.
  [[nodiscard]] std::string dated(const icu::SimpleDateFormat& form, Time at) const {
    const auto local = at + zone.offset(at);
    UnicodeString text;
    form.format(static_cast<UDate>(local.time_since_epoch().count()), text);
    // The narrow no-break space before "PM" is more than a mail's subject or a terminal may know.
    return narrow(text.findAndReplace(",", "").findAndReplace(UnicodeString{char16_t{0x202F}}, " "));
  }

  const icu::MessageFormat& parsed(std::string_view key) {
    auto found = parsed_.find(key);
    if (found == parsed_.end()) {
      UErrorCode status = U_ZERO_ERROR;
      auto form = std::make_unique<icu::MessageFormat>(wide(patterns_.find(key)->second), locale_, status);
      must(status, key);
      found = parsed_.emplace(key, std::move(form)).first;
    }
    return *found->second;
  }

  icu::Locale locale_;
  Patterns patterns_;
  std::map<std::string, std::unique_ptr<icu::MessageFormat>, std::less<>> parsed_;  // that were asked for
  icu::number::LocalizedNumberFormatter numbers_;
  std::unique_ptr<icu::ListFormatter> lists_;
  std::unique_ptr<icu::SimpleDateFormat> dates_, days_;
  std::array<std::map<std::string, std::string, std::less<>>, words<CatalogueKind>.size()> labels_;  // by key
};

Words::Words(Manner manner, const Entries& entries, LocalZone zone, Dates dates)
    : messages_(std::make_unique<Messages>(manner, entries, zone, dates)) {}
Words::~Words() = default;
Words::Words(Words&&) noexcept = default;
Words& Words::operator=(Words&&) noexcept = default;

Manner Words::manner() const {
  return messages_->manner;
}
const LocalZone& Words::zone() const {
  return messages_->zone;
}

std::string Words::say(std::string_view key, const std::vector<Value>& values) const {
  if (!messages_->knows(key)) {
    return std::string{key};
  }
  std::vector<UnicodeString> names;
  std::vector<icu::Formattable> formattable;
  for (const auto& one : values) {
    names.push_back(wide(one.name));
    formattable.push_back(one.measure == Measure::count ? count_of(one) : icu::Formattable{wide(value(one))});
  }
  return messages_->format(key, names, formattable);
}

std::string Words::fact(const Fact& fact) const {
  return messages_->knows(fact.key) ? say(fact.key, fact.values) : fact.words;
}

std::string Words::sentence(const Fact& one) const {
  return capital(fact(one));
}

std::string Words::value(const Value& value) const {
  switch (value.measure) {
    case Measure::text:
      return value.text;
    case Measure::word:
      return say(value.text);
    case Measure::film:
      return film(value.text);
    case Measure::solution:
      return solution(value.text);
    case Measure::panel:
      return panel(value.text);
    case Measure::facts: {
      std::vector<std::string> all;
      std::ranges::transform(value.facts, std::back_inserter(all),
                             [&](const Fact& one) { return fact(one); });
      return messages_->joined(all);
    }
    case Measure::time:
      return value.at ? when(*value.at) : "-";
    default:
      return value.number && sayable(*value.number) ? measured(value.measure, *value.number) : "-";
  }
}

std::string Words::measured(Measure measure, double number) const {
  const auto with_unit = [&](std::string_view unit, std::string written) {
    return say(std::string{"units."} + std::string{unit}, {say::text("n", std::move(written))});
  };
  switch (measure) {
    case Measure::count:
      return this->number(number, 0);
    case Measure::celsius:
      return temperature(number);
    case Measure::kelvin:
      return difference(number);
    case Measure::humidity:
      return with_unit("humidity", this->number(number, 1));
    case Measure::humidity_change:
      return with_unit("humidity", this->number(number, 1, true));
    case Measure::water:
      return with_unit("water", figure(number));
    case Measure::hours:
      return with_unit("hours", figure(number));
    case Measure::figure:
      return figure(number);
    case Measure::share:
      return share(number, 1);
    case Measure::span:
      return span(std::chrono::round<Millis>(std::chrono::duration<double>{number}));
    case Measure::concentration:
      return with_unit("concentration", this->number(number, 0));
    case Measure::mass:
      return with_unit("mass", this->number(number, 0));
    case Measure::volume:
      return with_unit("volume", this->number(number, 1));
    case Measure::storage:
      return with_unit("storage", this->number(number / 1e6, 0));
    case Measure::speed:
      return with_unit("speed", this->number(number, 1));
    case Measure::resistance:
      return with_unit("resistance", figure(number / 1e9));
    default:
      return {};
  }
}

std::string Words::number(double value, int decimals, bool is_signed) const {
  return sayable(value) ? messages_->number(value, decimals, is_signed) : "-";
}

std::string Words::fixed(double value, int decimals) const {
  return std::isfinite(value) ? messages_->fixed(value, decimals) : "-";
}

std::string Words::decimal_sign() const {
  return messages_->decimal_sign();
}

std::string Words::figure(double value) const {
  // What is set may be finer than any fact: a wet share of 0.005.
  return number(value, std::abs(value) < 0.1 ? 3 : decimals_of_figure(value));
}

std::string Words::share(double fraction, int decimals) const {
  return std::isfinite(fraction) ? say("units.share", {say::text("n", number(100.0 * fraction, decimals))})
                                 : "-";
}

double Words::in_scale(double celsius) const {
  return manner().temperature == TemperatureScale::fahrenheit ? celsius * 1.8 + 32.0 : celsius;
}

std::string Words::degree() const {
  return unit_symbol(manner().temperature == TemperatureScale::fahrenheit ? Unit::fahrenheit : Unit::celsius);
}

std::string Words::unit_symbol(Unit unit) const {
  switch (unit) {
    case Unit::celsius:
      return "°C";
    case Unit::fahrenheit:
      return "°F";
    case Unit::fraction:
      return say("units.fraction");
    case Unit::kelvin:
    case Unit::percent:
    case Unit::metres_per_second:
      break;
  }
  return std::string{name_of(unit)};
}

std::string Words::temperature(double celsius) const {
  if (!sayable(celsius)) {
    return "-";
  }
  return say(manner().temperature == TemperatureScale::fahrenheit ? "units.fahrenheit" : "units.celsius",
             {say::text("n", number(in_scale(celsius), 1))});
}

std::string Words::difference(double kelvin) const {
  if (!sayable(kelvin)) {
    return "-";
  }
  return manner().temperature == TemperatureScale::fahrenheit
             ? say("units.fahrenheit", {say::text("n", number(1.8 * kelvin, 1))})
             : say("units.kelvin", {say::text("n", number(kelvin, 1))});
}

std::string Words::span(Millis length) const {
  if (length < Millis{0}) {
    return "-" + span(-length);
  }
  using std::chrono::days, std::chrono::floor, std::chrono::hours, std::chrono::minutes, std::chrono::seconds;
  const auto whole_days = floor<days>(length);
  const auto whole_hours = floor<hours>(length);
  const auto whole_minutes = floor<minutes>(length);
  const auto part = [&](std::string_view unit, std::int64_t n) {
    return say(std::string{"units."} + std::string{unit}, {say::text("n", std::to_string(n))});
  };
  const auto tail = [&](std::string_view unit, std::int64_t n) {
    return n == 0 ? std::string{} : " " + part(unit, n);
  };
  if (whole_days > days{0}) {
    return say("units.days", {say::count("n", whole_days.count())}) +
           tail("hours", (whole_hours - whole_days).count());
  }
  if (whole_hours > hours{0}) {
    return part("hours", whole_hours.count()) + tail("minutes", (whole_minutes - whole_hours).count());
  }
  return whole_minutes < minutes{2} && length != whole_minutes
             ? part("seconds", floor<seconds>(length).count())
             : part("minutes", whole_minutes.count());
}

std::string Words::film(std::string_view key) const {
  return messages_->label(CatalogueKind::film, key);
}

std::string Words::solution(std::string_view key) const {
  return messages_->label(CatalogueKind::solution, key);
}

std::string Words::panel(std::string_view key) const {
  return messages_->label(CatalogueKind::panel, key);
}

std::string Words::piece(const PlannedPiece& name) const {
  return fact(piece_fact(name));
}

std::string Words::when(Time at) const {
  return messages_->when(at);
}

std::string Words::when(Time at, Time now) const {
  return messages_->when(at, now);
}

std::string capital(std::string_view text) {
  UnicodeString wide_text = wide(text);
  if (wide_text.isEmpty()) {
    return {};
  }
  const auto first = wide_text.char32At(0);
  wide_text.replace(0, U16_LENGTH(first), u_toupper(first));
  return narrow(wide_text);
}

}  // namespace dryclock::wording
