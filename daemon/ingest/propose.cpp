#include "ingest/propose.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <string_view>

#include "base/wellformed.hpp"
#include "domain/names.hpp"
#include "ingest/number.hpp"

namespace dryclock::ingest {
namespace {

namespace json = boost::json;

constexpr std::size_t deepest_proposed = 6, most_values = 200;
constexpr Millis clock_agrees = std::chrono::minutes{5};

using Words = std::vector<std::string>;

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> list) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

std::string lower_case(std::string_view text) {
  std::string lower{text};
  std::ranges::transform(lower, lower.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; });
  return lower;
}

// "Air.TempC_1" -> air, temp, c, 1
Words words_in(std::string_view name) {
  Words out;
  char before = ' ';
  for (const char c : name) {
    const bool upper = c >= 'A' && c <= 'Z';
    const bool lower = c >= 'a' && c <= 'z';
    const bool digit = c >= '0' && c <= '9';
    if (upper || lower || digit) {
      const bool starts = out.empty() || before == ' ' || (upper && before >= 'a' && before <= 'z') ||
                          (digit != (before >= '0' && before <= '9'));
      if (starts) {
        out.emplace_back();
      }
      out.back() += upper ? static_cast<char>(c - 'A' + 'a') : c;
      before = c;
    } else {
      before = ' ';
    }
  }
  return out;
}

bool has(const Words& words, std::initializer_list<std::string_view> any) {
  return std::ranges::any_of(words, [&](const std::string& word) { return is_one_of(word, any); });
}

bool is_temperature_word(std::string_view word) {
  return is_one_of(word, {"temperature", "temp", "tmp", "t", "tempc", "tempf"});
}
bool is_humidity_word(std::string_view word) {
  return is_one_of(word, {"humidity", "hum", "rh", "h", "humid"});
}

// What a value of that name is likely to be; its parents' names may say more.
std::optional<Quantity> quantity_named(const Words& name, const Words& around) {
  const auto anywhere = [&](std::initializer_list<std::string_view> any) {
    return has(name, any) || has(around, any);
  };
  if (anywhere({"dew",  "dewpoint", "setpoint", "target", "max",     "min",     "cpu",
                "chip", "core",     "feels",    "index",  "battery", "offset",  "calibration",
                "soil", "absolute", "water",    "change", "alarm",   "comfort", "threshold"})) {
    return std::nullopt;
  }
  if (std::ranges::any_of(name, is_temperature_word)) {
    return anywhere({"panel", "surface", "plate", "metal"}) ? Quantity::panel_temperature
                                                            : Quantity::air_temperature;
  }
  if (std::ranges::any_of(name, is_humidity_word)) {
    return Quantity::relative_humidity;
  }
  if (has(name, {"airspeed", "speed"}) && anywhere({"air", "wind", "airspeed"})) {
    return Quantity::air_speed;
  }
  return std::nullopt;
}

Fact by_its_size(std::string_view key, double value) {
  return {std::string{key}, {say::text("value", fmt::format("{}", value))}};
}

// By its name where that tells, else by its size.
std::optional<Unit> unit_of(Quantity quantity, const Words& name, double value, Fact& guess) {
  switch (quantity) {
    case Quantity::air_temperature:
    case Quantity::panel_temperature:
      if (has(name, {"f", "fahrenheit", "tempf"})) {
        return Unit::fahrenheit;
      }
      if (has(name, {"c", "celsius", "tempc"})) {
        return Unit::celsius;
      }
      if (value >= -30.0 && value <= 45.0) {
        guess = by_its_size("guesses.celsius", value);
        return Unit::celsius;
      }
      if (value > 45.0 && value <= 130.0) {
        guess = by_its_size("guesses.fahrenheit", value);
        return Unit::fahrenheit;
      }
      if (value >= 240.0 && value <= 330.0) {
        guess = by_its_size("guesses.kelvin", value);
        return Unit::kelvin;
      }
      return std::nullopt;
    case Quantity::relative_humidity:
      if (value > 0.0 && value <= 1.0) {
        guess = by_its_size("guesses.fraction", value);
        return Unit::fraction;
      }
      if (value > 1.0 && value <= 105.0) {
        guess = by_its_size("guesses.percent", value);
        return Unit::percent;
      }
      return std::nullopt;
    case Quantity::air_speed:
      return Unit::metres_per_second;
  }
  return std::nullopt;
}

std::optional<double> number_of(const json::value& value) {
  if (value.is_number()) {
    const double number = value.to_number<double>();
    return std::isfinite(number) ? std::optional{number} : std::nullopt;  // the parser makes 1e400 infinite
  }
  const auto number = value.is_string() ? number_in(value.get_string()) : RejectReason::not_a_number;
  return number ? std::optional{*number} : std::nullopt;
}

struct Leaf {
  std::string pointer;  // empty: the payload itself
  std::string name;
  Words around;
  const json::value* value = nullptr;
};

void leaves_of(const json::value& value, const Leaf& at, std::size_t depth, std::vector<Leaf>& out) {
  if (out.size() >= most_values || depth > deepest_proposed) {
    return;
  }
  const auto below = [&](const std::string& key, const json::value& item) {
    Leaf leaf{at.pointer + "/" + pointer_token(key), key, at.around, &item};
    const auto words = words_in(at.name);
    leaf.around.insert(leaf.around.end(), words.begin(), words.end());
    leaves_of(item, leaf, depth + 1, out);
  };
  if (value.is_object()) {
    for (const auto& member : value.get_object()) {
      below(std::string{std::string_view{member.key()}}, member.value());
    }
  } else if (value.is_array()) {
    for (std::size_t i = 0; i < value.get_array().size(); ++i) {
      below(std::to_string(i), value.get_array()[i]);
    }
  } else {
    out.push_back(at);
  }
}

bool says_presence(std::string_view text) {
  const auto word = lower_case(text);
  return is_one_of(word, {"online", "offline", "connected", "disconnected", "alive", "dead", "available",
                          "unavailable", "up", "down"});
}

bool is_availability(const HeardTopic& heard, const std::optional<json::value>& document) {
  if (says_presence(heard.payload)) {
    return true;
  }
  if (document && document->is_object() && document->get_object().size() <= 2) {
    return std::ranges::any_of(document->get_object(), [](const auto& member) {
      return member.value().is_string() && says_presence(member.value().get_string());
    });
  }
  return false;
}

std::vector<std::string> levels_of(std::string_view topic) {
  std::vector<std::string> levels{""};
  for (const char c : topic) {
    if (c == '/') {
      levels.emplace_back();
    } else {
      levels.back() += c;
    }
  }
  return levels;
}

bool says_nothing(std::string_view level) {
  const auto word = lower_case(level);
  return is_one_of(word, {"state", "telemetry", "tele", "sensor", "sensors", "data", "values", "value",
                          "status", "reading", "readings", "json", "info", "get", "measurement", ""});
}

// A quantity's word goes: "bench_temperature" is the bench's.
std::string without_quantity(std::string_view level) {
  std::string out;
  for (const auto& word : words_in(level)) {
    if (!is_temperature_word(word) && !is_humidity_word(word) &&
        !is_one_of(word, {"c", "f", "air", "relative"})) {
      out += (out.empty() ? "" : "-") + word;
    }
  }
  return out;
}

std::string fit_for_a_name(std::string_view level) {
  std::string out;
  for (const char c : level) {
    out += c == '+' || c == '#' || c == '/' || static_cast<unsigned char>(c) < 0x20 ? '-' : c;
  }
  return out;
}

struct Candidate {
  SensorRead read;
  std::string sample;
  Fact guess;
};
struct Group {
  std::vector<std::string> levels;  // its name's, the last one the most telling
  std::vector<Candidate> candidates;
};

class Proposer {
 public:
  Proposals run(const std::vector<HeardTopic>& heard) {
    for (const auto& one : heard) {
      out_.kinds.push_back(look_at(one));
    }
    for (auto& [key, group] : groups_) {
      add(group);
    }
    return std::move(out_);
  }

 private:
  TopicKind look_at(const HeardTopic& heard) {
    json::parse_options options;
    options.max_depth = 32;
    boost::system::error_code error;
    std::optional<json::value> document = json::parse(heard.payload, error, {}, options);
    if (error) {
      document.reset();
    }
    if (is_availability(heard, document)) {
      return TopicKind::availability;
    }
    auto levels = levels_of(heard.topic);
    while (levels.size() > 1 && says_nothing(levels.back())) {
      levels.pop_back();
    }
    if (document && (document->is_object() || document->is_array())) {
      return look_into(heard, *document, levels);
    }
    const auto value = number_in(heard.payload);
    if (!value) {
      return TopicKind::other;
    }
    // One value a topic: the quantity stands in the last level, the device in what is left.
    Words around;
    for (std::size_t i = 0; i + 1 < levels.size(); ++i) {
      const auto words = words_in(levels[i]);
      around.insert(around.end(), words.begin(), words.end());
    }
    const std::string last = levels.back();
    levels.pop_back();
    if (const auto device = without_quantity(last); !device.empty()) {
      levels.push_back(device);
    }
    while (levels.size() > 1 && says_nothing(levels.back())) {
      levels.pop_back();
    }
    auto& group = groups_[fmt::format("{}", fmt::join(levels, "/"))];
    group.levels = levels;
    const bool taken = add_candidate(group, heard, "", words_in(last), around, *value, heard.payload, "");
    return taken ? TopicKind::readings : TopicKind::other;
  }

  TopicKind look_into(const HeardTopic& heard, const json::value& document,
                      const std::vector<std::string>& levels) {
    std::vector<Leaf> leaves;
    leaves_of(document, {}, 0, leaves);
    auto& group = groups_["{" + heard.topic];  // a group of its own
    group.levels = levels;
    const auto time = time_pointer(leaves, heard.at);
    bool taken = false;
    for (const auto& leaf : leaves) {
      if (const auto value = number_of(*leaf.value)) {
        taken |= add_candidate(
            group, heard, leaf.pointer, words_in(leaf.name), leaf.around, *value,
            leaf.value->is_number() ? fmt::format("{}", *value) : json::serialize(*leaf.value), time);
      }
    }
    return taken ? TopicKind::readings : TopicKind::other;
  }

  // Only a clock that agrees with ours is worth more than the time of receipt.
  static std::string time_pointer(const std::vector<Leaf>& leaves, Time received) {
    for (const auto& leaf : leaves) {
      if (!has(words_in(leaf.name), {"time", "timestamp", "ts", "datetime", "seen", "at"})) {
        continue;
      }
      std::optional<Time> at;
      if (leaf.value->is_string()) {
        if (const auto read = parse_rfc3339(leaf.value->get_string())) {
          at = *read;
        }
      } else if (leaf.value->is_number()) {
        at = instant_in(leaf.value->to_number<double>());
      }
      if (at && std::chrono::abs(received - *at) <= clock_agrees) {
        return leaf.pointer;
      }
    }
    return "";
  }

  static bool add_candidate(Group& group, const HeardTopic& heard, const std::string& pointer,
                            const Words& name, const Words& around, double value, const std::string& sample,
                            const std::string& time) {
    const auto quantity = quantity_named(name, around);
    if (!quantity) {
      return false;
    }
    Fact guess;
    const auto unit = unit_of(*quantity, name, value, guess);
    if (!unit) {
      return false;
    }
    group.candidates.push_back(
        {{heard.topic, pointer, *quantity, *unit, 1.0, 0.0, time}, sample, std::move(guess)});
    return true;
  }

  void add(Group& group) {
    ProposedSensor sensor;
    std::set<Quantity> taken;
    for (auto& candidate : group.candidates) {
      if (!taken.insert(candidate.read.quantity).second) {
        const auto where = candidate.read.pointer.empty() ? candidate.read.topic : candidate.read.pointer;
        const auto quantity = "words.quantity-" + std::string{name_of(candidate.read.quantity)};
        sensor.guesses.push_back(
            {"guesses.left-out", {say::text("where", where), say::word("quantity", quantity)}});
        continue;
      }
      if (!candidate.guess.key.empty()) {
        sensor.guesses.push_back(std::move(candidate.guess));
      }
      sensor.reads.push_back({std::move(candidate.read), std::move(candidate.sample)});
    }
    if (sensor.reads.empty()) {
      return;
    }
    if (!sensor.reads.front().read.time_pointer.empty()) {
      sensor.guesses.push_back(
          {"guesses.time", {say::text("where", sensor.reads.front().read.time_pointer)}});
    }
    sensor.name = name_for(group.levels);
    out_.sensors.push_back(std::move(sensor));
  }

  // The last level; as many before it as it takes to be alone.
  std::string name_for(const std::vector<std::string>& levels) {
    std::string name;
    for (auto level = levels.size(); level-- > 0;) {
      const auto part = fit_for_a_name(levels[level]);
      if (!part.empty()) {
        name = name.empty() ? part : part + "-" + name;
      }
      if (!name.empty() && names_.insert(name).second) {
        return name;
      }
    }
    const std::string base = name.empty() ? "sensor" : name;
    for (int n = 2;; ++n) {
      if (name = fmt::format("{}-{}", base, n); names_.insert(name).second) {
        return name;
      }
    }
  }

  std::map<std::string, Group> groups_;
  std::set<std::string> names_;
  Proposals out_;
};

}  // namespace

Proposals propose(const std::vector<HeardTopic>& heard) {
  return Proposer{}.run(heard);
}

}  // namespace dryclock::ingest
