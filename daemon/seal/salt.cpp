#include "seal/salt.hpp"

#include "base/sha256.hpp"
#include "seal/commitment.hpp"
#include "seal/durable_file.hpp"

namespace dryclock::seal {

std::string salt_of(const std::filesystem::path& folder) {
  if (auto salt = read_if_there(folder / "salt")) {
    return std::move(*salt);
  }
  // Hashed for its printable form; nothing of the randomness is lost.
  auto salt = sha256_hex(random_bytes());
  write_durably(folder / "salt", salt, folder / "tmp" / "file", true);
  return salt;
}

}  // namespace dryclock::seal
