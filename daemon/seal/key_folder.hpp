// The private keys, outside the database and the sealed files: a folder of mode 0700, a file of mode 0600 for
// each. A key carries the number of the first checkpoint that it signs. At most two are there: the one in
// use, and for a moment the one that follows it. Throws std::filesystem::filesystem_error,
// std::runtime_error.
#pragma once

#include <cstdint>
#include <filesystem>

#include "seal/signing_key.hpp"

namespace dryclock::seal {

class KeyFolder {
 public:
  // Made where it is not there. Throws where others than its owner may enter it.
  explicit KeyFolder(std::filesystem::path folder);

  [[nodiscard]] bool holds(std::int64_t number) const;
  [[nodiscard]] SigningKey load(std::int64_t number) const;
  void keep(std::int64_t number, const SigningKey& key) const;  // on disk on return
  // Overwrites and removes every other key: what it signed can then be signed anew by nobody.
  void erase_all_but(std::int64_t number) const;

 private:
  [[nodiscard]] std::filesystem::path file(std::int64_t number) const;
  std::filesystem::path folder_;
};

}  // namespace dryclock::seal
