#include "cli/json_tree.hpp"

#include <fmt/core.h>

#include <boost/json/stream_parser.hpp>
#include <limits>

#include "base/wellformed.hpp"

namespace dryclock::cli {
namespace {

using config::Node;

Node convert(const boost::json::value& from, const std::string& file, const std::string& pointer) {
  Node node{{file, 0, 0, pointer}, config::DateOrTime{}};
  if (const auto* object = from.if_object()) {
    config::Table members;
    for (const auto& [key, value] : *object) {
      const auto at = pointer + "/" + pointer_token(key);
      members.push_back({std::string(key), {file, 0, 0, at}, convert(value, file, at)});
    }
    node.value = std::move(members);
  } else if (const auto* array = from.if_array()) {
    config::List items;
    for (const auto& item : *array) {
      items.push_back(convert(item, file, pointer + "/" + std::to_string(items.size())));
    }
    node.value = std::move(items);
  } else if (const auto* text = from.if_string()) {
    node.value = std::string(*text);
  } else if (const auto* whole = from.if_int64()) {
    node.value = *whole;
  } else if (from.is_number()) {
    node.value = from.to_number<double>();
  } else if (const auto* flag = from.if_bool()) {
    node.value = *flag;
  } else {
    node.value = std::numeric_limits<double>::quiet_NaN();  // null: no number of ours may be that
  }
  return node;
}

}  // namespace

std::optional<Node> parse_json(std::string_view text, const std::string& name, config::Problems& problems) {
  boost::json::stream_parser parser;
  boost::system::error_code error;
  const auto taken = parser.write_some(text.data(), text.size(), error);
  if (!error && text.find_first_not_of(" \t\r\n", taken) != std::string_view::npos) {
    error = boost::json::error::extra_data;
  }
  if (!error) {
    parser.finish(error);
  }
  if (error) {
    int line = 1;
    int column = 1;
    for (const char c : text.substr(0, taken)) {
      column = c == '\n' ? 1 : column + 1;
      line += c == '\n' ? 1 : 0;
    }
    problems.add({name, line, column, ""}, fmt::format("not JSON: {}", error.message()));
    return std::nullopt;
  }
  return convert(parser.release(), name, "");
}

}  // namespace dryclock::cli
