#include "cli/sensor_toml.hpp"

#include <fmt/format.h>

#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

// A basic string: TOML 1.0.0, section "String".
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) {
      out += fmt::format("\\u{:04X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    } else {
      out += c;
    }
  }
  return out + '"';
}

// Nothing where there is no text.
std::string line(const char* key, const std::string& text) {
  return text.empty() ? "" : fmt::format("{} = {}\n", key, quoted(text));
}

std::string number(double value) {  // TOML tells whole numbers from others; both are read as a number
  return fmt::format("{}", value);
}

std::string read_line(const SensorRead& read) {
  std::string line = fmt::format("  {{ quantity = \"{}\", topic = {}, unit = \"{}\"", name_of(read.quantity),
                                 quoted(read.topic), name_of(read.unit));
  const auto add_text = [&](const char* key, const std::string& value) {
    if (!value.empty()) {
      line += fmt::format(", {} = {}", key, quoted(value));
    }
  };
  add_text("pointer", read.pointer);
  add_text("time_pointer", read.time_pointer);
  if (read.slope != 1.0) {
    line += ", slope = " + number(read.slope);
  }
  if (read.offset != 0.0) {
    line += ", offset = " + number(read.offset);
  }
  return line + " },\n";
}

}  // namespace

std::string sensor_toml(const std::vector<SensorView>& sensors) {
  std::string out;
  for (const auto& sensor : sensors) {
    out += fmt::format("{}[[sensor]]\nname = {}\nbay = {}\n{}{}reads = [\n", out.empty() ? "" : "\n",
                       quoted(sensor.name), quoted(sensor.bay), line("model", sensor.model),
                       line("place", sensor.place));
    for (const auto& stream : sensor.reads) {
      out += read_line(stream.read);
    }
    out += "]\n";
  }
  return out;
}

}  // namespace dryclock::cli
