// A time stamping authority of `openssl ts`, as its manual sets one up: valid for a day.
#pragma once

#include <filesystem>
#include <string>

#include "support/scratch_folder.hpp"

namespace dryclock::test {

class StampAuthority {
 public:
  StampAuthority();
  // Its answer to a query, both DER; with another status than "granted" where it refuses.
  [[nodiscard]] std::string answer(const std::string& query) const;
  [[nodiscard]] std::filesystem::path certificate() const { return folder_ / "tsa.pem"; }

 private:
  ScratchFolder folder_;
};

}  // namespace dryclock::test
