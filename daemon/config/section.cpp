#include "config/section.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "base/wellformed.hpp"
#include "config/nearest.hpp"

namespace dryclock::config {
namespace {

const Table no_members;

std::string describe(const Node& node) {
  struct Describe {
    std::string operator()(const Table&) const { return "a table"; }
    std::string operator()(const List&) const { return "a list"; }
    std::string operator()(const std::string& text) const { return "text \"" + text + "\""; }
    std::string operator()(std::int64_t whole) const { return std::to_string(whole); }
    std::string operator()(double number) const { return fmt::format("{:g}", number); }
    std::string operator()(bool flag) const { return flag ? "true" : "false"; }
    std::string operator()(DateOrTime) const { return "a date or time"; }
  };
  return std::visit(Describe{}, node.value);
}

std::string listed(const std::vector<std::string_view>& of) {
  std::string text;
  for (const auto word : of) {
    text += (text.empty() ? "\"" : ", \"") + std::string(word) + "\"";
  }
  return text;
}

}  // namespace

Section::Section(const Node& node, Problems& problems)
    : table_(std::get_if<Table>(&node.value)), place_(node.place), problems_(&problems) {
  if (table_ == nullptr) {
    table_ = &no_members;
    problems.add(node.place, "a table is expected, not " + describe(node));
  }
}

const Node* Section::find(std::string_view key) {
  if (std::find(asked_.begin(), asked_.end(), key) == asked_.end()) {
    asked_.emplace_back(key);
  }
  const auto at = std::find_if(table_->begin(), table_->end(), [&](const Member& m) { return m.key == key; });
  return at == table_->end() ? nullptr : &at->node;
}

Place Section::place(std::string_view key) const {
  const auto at = std::find_if(table_->begin(), table_->end(), [&](const Member& m) { return m.key == key; });
  return at == table_->end() ? place_ : at->node.place;
}

void Section::complain(std::string_view key, const std::string& what) const {
  problems_->add(place(key), fmt::format("{}: {}", key, what));
}

void Section::warn(std::string_view key, const std::string& what) const {
  problems_->warn(place(key), fmt::format("{}: {}", key, what));
}

void Section::wrong_type(const Node& node, std::string_view name, std::string_view expected) {
  problems_->add(node.place, fmt::format("{}: {} is expected, not {}", name, expected, describe(node)));
}

std::optional<double> Section::number_of(const Node& node, std::string_view name, Bounds bounds) {
  double value = 0.0;
  if (const auto* number = std::get_if<double>(&node.value)) {
    value = *number;
  } else if (const auto* whole = std::get_if<std::int64_t>(&node.value)) {
    value = static_cast<double>(*whole);
  } else {
    wrong_type(node, name, "a number");
    return std::nullopt;
  }
  if (!(value >= bounds.least && value <= bounds.most)) {  // catches NaN as well
    problems_->add(node.place,
                   fmt::format("{}: {:g} is outside {:g} to {:g}", name, value, bounds.least, bounds.most));
    return std::nullopt;
  }
  return value;
}

std::optional<double> Section::maybe_number(std::string_view key, Bounds bounds) {
  const auto* node = find(key);
  return node == nullptr ? std::nullopt : number_of(*node, key, bounds);
}

double Section::number(std::string_view key, double fallback, Bounds bounds) {
  return maybe_number(key, bounds).value_or(fallback);
}

double Section::needed_number(std::string_view key, Bounds bounds) {
  need(key);
  return number(key, bounds.least, bounds);
}

int Section::whole(std::string_view key, int fallback, int least, int most) {
  const auto* node = find(key);
  if (node == nullptr) {
    return fallback;
  }
  const auto* whole = std::get_if<std::int64_t>(&node->value);
  if (whole == nullptr) {
    wrong_type(*node, key, "a whole number");
    return fallback;
  }
  if (*whole < least || *whole > most) {
    problems_->add(node->place, fmt::format("{}: {} is outside {} to {}", key, *whole, least, most));
    return fallback;
  }
  return static_cast<int>(*whole);
}

bool Section::flag(std::string_view key, bool fallback) {
  const auto* node = find(key);
  if (node == nullptr) {
    return fallback;
  }
  if (const auto* flag = std::get_if<bool>(&node->value)) {
    return *flag;
  }
  wrong_type(*node, key, "true or false");
  return fallback;
}

std::string Section::text(std::string_view key, std::string fallback) {
  const auto* node = find(key);
  if (node == nullptr) {
    return fallback;
  }
  if (const auto* text = std::get_if<std::string>(&node->value)) {
    return *text;
  }
  wrong_type(*node, key, "text in quotes");
  return fallback;
}

std::string Section::needed_text(std::string_view key) {
  need(key);
  const auto* node = find(key);
  auto value = text(key);
  if (node != nullptr && value.empty() && std::holds_alternative<std::string>(node->value)) {
    problems_->add(node->place, fmt::format("{}: must not be empty", key));
  }
  return value;
}

std::string Section::new_name(std::string_view what, std::set<std::string>& names) {
  auto name = needed_text("name");
  if (const auto wrong = wrong_with_name(name); !wrong.empty()) {
    complain("name", wrong);
  } else if (!name.empty() && !names.insert(name).second) {
    complain("name", fmt::format("a {} \"{}\" is there already", what, name));
  }
  return name;
}

std::vector<std::string> Section::texts(std::string_view key) {
  const auto* node = find(key);
  if (node == nullptr) {
    return {};
  }
  const auto* items = std::get_if<List>(&node->value);
  if (items == nullptr) {
    wrong_type(*node, key, "a list of texts");
    return {};
  }
  std::vector<std::string> values;
  for (const auto& item : *items) {
    if (const auto* text = std::get_if<std::string>(&item.value)) {
      values.push_back(*text);
    } else {
      wrong_type(item, key, "text in quotes");
    }
  }
  return values;
}

std::vector<double> Section::numbers(std::string_view key, Bounds bounds) {
  const auto* node = find(key);
  if (node == nullptr) {
    return {};
  }
  const auto* items = std::get_if<List>(&node->value);
  if (items == nullptr) {
    wrong_type(*node, key, "a list of numbers");
    return {};
  }
  std::vector<double> values;
  for (const auto& item : *items) {
    if (const auto value = number_of(item, key, bounds)) {
      values.push_back(*value);
    }
  }
  return values;
}

std::optional<std::size_t> Section::choice_of(const Node& node, std::string_view name,
                                              const std::vector<std::string_view>& of) {
  const auto* text = std::get_if<std::string>(&node.value);
  if (text == nullptr) {
    wrong_type(node, name, "one of " + listed(of));
    return std::nullopt;
  }
  const auto at = std::find(of.begin(), of.end(), *text);
  if (at == of.end()) {
    problems_->add(node.place, fmt::format("{}: \"{}\" is none of {}", name, *text, listed(of)));
    return std::nullopt;
  }
  return static_cast<std::size_t>(at - of.begin());
}

bool Section::is_list(std::string_view key) {
  const auto* node = find(key);
  return node != nullptr && std::holds_alternative<List>(node->value);
}

std::size_t Section::choice(std::string_view key, std::size_t fallback,
                            const std::vector<std::string_view>& of) {
  const auto* node = find(key);
  return node == nullptr ? fallback : choice_of(*node, key, of).value_or(fallback);
}

std::vector<std::size_t> Section::choices(std::string_view key, const std::vector<std::string_view>& of) {
  const auto* node = find(key);
  if (node == nullptr) {
    return {};
  }
  const auto* items = std::get_if<List>(&node->value);
  if (items == nullptr) {
    wrong_type(*node, key, "a list");
    return {};
  }
  std::vector<std::size_t> values;
  for (const auto& item : *items) {
    if (const auto value = choice_of(item, key, of)) {
      values.push_back(*value);
    }
  }
  return values;
}

std::optional<Section> Section::section(std::string_view key) {
  const auto* node = find(key);
  return node == nullptr ? std::nullopt : std::optional<Section>(Section(*node, *problems_));
}

std::vector<Section> Section::list(std::string_view key) {
  const auto* node = find(key);
  if (node == nullptr) {
    return {};
  }
  const auto* items = std::get_if<List>(&node->value);
  if (items == nullptr) {
    wrong_type(*node, key, fmt::format("a list of tables, [[{}]],", key));
    return {};
  }
  std::vector<Section> sections;
  sections.reserve(items->size());
  for (const auto& item : *items) {
    sections.emplace_back(item, *problems_);
  }
  return sections;
}

void Section::need(std::string_view key) {
  if (find(key) == nullptr) {
    problems_->add(place_, fmt::format("{} is missing", key));
  }
}

void Section::finish() {
  const std::vector<std::string_view> known(asked_.begin(), asked_.end());
  for (const auto& member : *table_) {
    if (std::find(known.begin(), known.end(), member.key) == known.end()) {
      problems_->add(member.place,
                     fmt::format("unknown key \"{}\"{}", member.key, did_you_mean(member.key, known)));
    }
  }
}

}  // namespace dryclock::config
