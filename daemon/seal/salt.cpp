#include "seal/salt.hpp"

#include <openssl/rand.h>

#include <array>
#include <stdexcept>

#include "seal/durable_file.hpp"
#include "seal/sha256.hpp"

namespace dryclock::seal {

std::string salt_of(const std::filesystem::path& folder) {
  if (auto salt = read_if_there(folder / "salt")) {
    return std::move(*salt);
  }
  std::array<unsigned char, 32> random{};
  if (RAND_bytes(random.data(), static_cast<int>(random.size())) != 1) {
    throw std::runtime_error("no random numbers");
  }
  // Hashed for its printable form; nothing of the randomness is lost.
  auto salt = sha256_hex({reinterpret_cast<const char*>(random.data()), random.size()});
  write_durably(folder / "salt", salt, folder / "tmp" / "file", true);
  return salt;
}

}  // namespace dryclock::seal
