#include "base/base64.hpp"

#include <openssl/evp.h>

#include <algorithm>

namespace dryclock {

std::string base64(std::string_view bytes) {
  std::string text((bytes.size() + 2) / 3 * 4, '\0');
  // It ends what it writes with a NUL, as the string does: data() has room for that.
  EVP_EncodeBlock(reinterpret_cast<unsigned char*>(text.data()),
                  reinterpret_cast<const unsigned char*>(bytes.data()), static_cast<int>(bytes.size()));
  return text;
}

std::string base64url(std::string_view bytes) {
  auto text = base64(bytes);
  std::replace(text.begin(), text.end(), '+', '-');
  std::replace(text.begin(), text.end(), '/', '_');
  text.resize(text.find_last_not_of('=') + 1);
  return text;
}

}  // namespace dryclock
