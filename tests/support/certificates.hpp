// Certificates made by the openssl program for one test: an authority, and a server whose only name is
// "localhost" (so not 127.0.0.1).
#pragma once

#include <filesystem>

#include "support/scratch_folder.hpp"

namespace dryclock::test {

class Certificates {
 public:
  Certificates();  // throws where openssl fails

  [[nodiscard]] std::filesystem::path authority() const { return folder_ / "ca.pem"; }
  [[nodiscard]] std::filesystem::path server() const { return folder_ / "server.pem"; }
  [[nodiscard]] std::filesystem::path server_key() const { return folder_ / "server.key"; }

 private:
  ScratchFolder folder_;
};

}  // namespace dryclock::test
