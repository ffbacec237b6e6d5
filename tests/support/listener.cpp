#include "support/listener.hpp"

#include <fstream>
#include <stdexcept>

#include "support/eventually.hpp"

namespace dryclock::test {
namespace {

// With -d it also tells what it does: those lines start with "Client" or "Subscribed".
std::vector<std::string> read_lines(const std::filesystem::path& file) {
  std::vector<std::string> lines;
  std::ifstream text(file);
  for (std::string line; std::getline(text, line);) {
    lines.push_back(line);
  }
  return lines;
}

}  // namespace

Listener::Listener(std::uint16_t port, const std::string& filter)
    : process_({"stdbuf", "-oL", "mosquitto_sub", "-d", "-v", "-q", "1", "-h", "127.0.0.1", "-p",
                std::to_string(port), "-t", filter},
               folder_ / "lines") {
  const bool subscribed = eventually([this] {
    for (const auto& line : read_lines(folder_ / "lines")) {
      if (line.starts_with("Subscribed")) {
        return true;
      }
    }
    return false;
  });
  if (!subscribed) {
    throw std::runtime_error("mosquitto_sub does not subscribe to " + filter);
  }
}

std::vector<std::string> Listener::lines() const {
  std::vector<std::string> messages;
  for (auto& line : read_lines(folder_ / "lines")) {
    if (!line.starts_with("Client ") && !line.starts_with("Subscribed")) {
      messages.push_back(std::move(line));
    }
  }
  return messages;
}

}  // namespace dryclock::test
