#include "config/toml_tree.hpp"

#include <toml++/toml.h>

#include <cerrno>
#include <cstring>
#include <fstream>
#include <sstream>
#include <system_error>

namespace dryclock::config {
namespace {

Place place_of(const toml::source_region& region, const std::string& file) {
  return {file, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column), ""};
}

Node convert(const toml::node& from, const std::string& file) {
  Node node{place_of(from.source(), file), DateOrTime{}};
  if (const auto* table = from.as_table()) {
    Table members;
    for (const auto& [key, value] : *table) {
      members.push_back({std::string(key.str()), place_of(key.source(), file), convert(value, file)});
    }
    node.value = std::move(members);
  } else if (const auto* array = from.as_array()) {
    List items;
    for (const auto& item : *array) {
      items.push_back(convert(item, file));
    }
    node.value = std::move(items);
  } else if (const auto* text = from.as_string()) {
    node.value = text->get();
  } else if (const auto* whole = from.as_integer()) {
    node.value = whole->get();
  } else if (const auto* number = from.as_floating_point()) {
    node.value = number->get();
  } else if (const auto* flag = from.as_boolean()) {
    node.value = flag->get();
  }
  return node;
}

}  // namespace

std::optional<Node> parse_toml(std::string_view text, const std::string& name, Problems& problems) {
  try {
    auto root = convert(toml::parse(text), name);
    root.place = {name, 1, 1, ""};
    return root;
  } catch (const toml::parse_error& error) {
    problems.add(place_of(error.source(), name), std::string(error.description()));
    return std::nullopt;
  }
}

std::optional<std::string> read_file(const std::filesystem::path& file, Problems& problems) {
  std::error_code told_by_opening;
  if (std::filesystem::is_directory(file, told_by_opening)) {
    problems.add({file.string(), 0, 0, ""}, "cannot be read: it is a folder");
    return std::nullopt;
  }
  errno = 0;
  std::ifstream in(file, std::ios::binary);
  std::ostringstream text;
  if (!in || !(text << in.rdbuf() || in.peek() == std::ifstream::traits_type::eof())) {
    problems.add({file.string(), 0, 0, ""}, std::string("cannot be read: ") + std::strerror(errno));
    return std::nullopt;
  }
  return std::move(text).str();
}

}  // namespace dryclock::config
