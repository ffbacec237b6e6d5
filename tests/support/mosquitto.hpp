// A real broker on a loopback port, with the settings that are shipped (deploy/mosquitto) and its own folder.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "support/process.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::test {

class Mosquitto {
 public:
  // `settings`: lines of mosquitto.conf, each in place of the shipped line with the same first word.
  explicit Mosquitto(const std::vector<std::string>& settings = {});

  void start();  // returns when it accepts connections; the port stays the same, the folder too
  void stop();   // SIGTERM: it tells its clients, and writes its sessions to disk
  void kill();   // SIGKILL
  [[nodiscard]] const Process& process() const { return *process_; }
  [[nodiscard]] std::uint16_t port() const { return port_; }
  [[nodiscard]] const std::filesystem::path& folder() const { return folder_.path(); }

 private:
  ScratchFolder folder_;
  std::uint16_t port_;
  std::optional<Process> process_;
};

}  // namespace dryclock::test
