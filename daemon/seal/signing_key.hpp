// An Ed25519 key pair (RFC 8032), in the PEM forms that `openssl` reads (RFC 8410).
// Throws std::runtime_error where the library refuses.
#pragma once

#include <memory>
#include <string>
#include <string_view>

struct evp_pkey_st;

namespace dryclock::seal {

class SigningKey {
 public:
  [[nodiscard]] static SigningKey generate();
  [[nodiscard]] static SigningKey from_pem(const std::string& private_pem);

  [[nodiscard]] std::string private_pem() const;  // whoever holds it should overwrite it after use
  [[nodiscard]] std::string public_pem() const;
  [[nodiscard]] std::string sign(std::string_view message) const;  // 64 bytes

 private:
  struct Free {
    void operator()(evp_pkey_st* key) const;
  };
  using Handle = std::unique_ptr<evp_pkey_st, Free>;
  friend bool signature_holds(const std::string&, std::string_view, std::string_view);

  explicit SigningKey(Handle key) : key_(std::move(key)) {}
  Handle key_;
};

// False also where the key or the signature is no such thing.
[[nodiscard]] bool signature_holds(const std::string& public_pem, std::string_view message,
                                   std::string_view signature);

// Overwrites a secret in memory; the compiler may not leave it out.
void wipe(std::string& secret);

}  // namespace dryclock::seal
