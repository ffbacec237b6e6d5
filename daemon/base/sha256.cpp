#include "base/sha256.hpp"

#include <openssl/evp.h>

#include <algorithm>
#include <stdexcept>

namespace dryclock {
namespace {

constexpr std::string_view digits = "0123456789abcdef";

}  // namespace

std::array<unsigned char, 32> sha256(std::string_view bytes) {
  std::array<unsigned char, 32> digest{};
  if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), nullptr, EVP_sha256(), nullptr) != 1) {
    throw std::runtime_error("SHA-256 is not available");
  }
  return digest;
}

std::string sha256_hex(std::string_view bytes) {
  std::string hex;
  for (const unsigned byte : sha256(bytes)) {
    hex += digits[byte >> 4U];
    hex += digits[byte & 15U];
  }
  return hex;
}

bool is_sha256_hex(std::string_view text) {
  return text.size() == 64 &&
         std::ranges::all_of(text, [](char c) { return digits.find(c) != std::string_view::npos; });
}

}  // namespace dryclock
