#include "support/mosquitto.hpp"

#include <signal.h>

#include <chrono>
#include <cstdlib>
#include <fstream>
#include <set>
#include <stdexcept>

#include "support/eventually.hpp"
#include "support/free_port.hpp"

namespace dryclock::test {
namespace {

std::string first_word(const std::string& line) {
  return line.substr(0, line.find(' '));
}

// Debian has the broker where an ordinary user's path does not lead.
std::string path_with_system_programs() {
  const char* path = std::getenv("PATH");
  return std::string{"PATH="} + (path == nullptr ? "" : path) + ":/usr/sbin";
}

}  // namespace

Mosquitto::Mosquitto(const std::vector<std::string>& settings) : port_(free_port()) {
  std::vector<std::string> ours{
      "listener " + std::to_string(port_) + " 127.0.0.1",
      "allow_anonymous true",
      "persistence_location " + folder_.path().string() + "/",
      "user root",  // of those who may start it as root: it would give up its folder
      "sys_interval 1",
      "log_dest stderr"};
  ours.insert(ours.end(), settings.begin(), settings.end());
  std::set<std::string> replaced;
  for (const auto& line : ours) {
    replaced.insert(first_word(line));
  }
  std::ofstream file(folder_ / "mosquitto.conf");
  std::ifstream shipped(DRYCLOCK_SOURCE_DIR "/deploy/mosquitto/dryclock.conf");
  for (std::string line; std::getline(shipped, line);) {
    if (!replaced.contains(first_word(line))) {
      file << line << '\n';
    }
  }
  for (const auto& line : ours) {
    file << line << '\n';
  }
  file.close();
  start();
}

void Mosquitto::start() {
  process_.emplace(std::vector<std::string>{"env", path_with_system_programs(), "mosquitto", "-c",
                                            folder_ / "mosquitto.conf"},
                   folder_ / "log");
  if (!eventually([this] { return answers(port_); })) {
    throw std::runtime_error("mosquitto does not start: see its log");
  }
}

void Mosquitto::stop() {
  process_->signal(SIGTERM);
  process_->wait(std::chrono::seconds{10});
  process_.reset();
}

void Mosquitto::kill() {
  process_->signal(SIGKILL);
  process_->wait(std::chrono::seconds{10});
  process_.reset();
}

}  // namespace dryclock::test
