#include "seal/signing_key.hpp"

#include <openssl/bio.h>
#include <openssl/crypto.h>
#include <openssl/evp.h>
#include <openssl/pem.h>

#include <stdexcept>

namespace dryclock::seal {
namespace {

constexpr std::size_t signature_bytes = 64;

struct FreeBio {
  void operator()(BIO* bio) const { BIO_free(bio); }
};
using Bio = std::unique_ptr<BIO, FreeBio>;

struct FreeContext {
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};
using Context = std::unique_ptr<EVP_MD_CTX, FreeContext>;

const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

Bio reading(const std::string& text) {
  return Bio(BIO_new_mem_buf(text.data(), static_cast<int>(text.size())));
}

void require(bool good, const char* what) {
  if (!good) {
    throw std::runtime_error(what);
  }
}

std::string text_of(BIO* bio) {
  char* data = nullptr;
  const long size = BIO_get_mem_data(bio, &data);
  return {data, static_cast<std::size_t>(size)};
}

}  // namespace

void SigningKey::Free::operator()(evp_pkey_st* key) const {
  EVP_PKEY_free(key);
}

SigningKey SigningKey::generate() {
  Handle key(EVP_PKEY_Q_keygen(nullptr, nullptr, "ED25519"));
  require(key != nullptr, "no Ed25519 key can be made");
  return SigningKey(std::move(key));
}

SigningKey SigningKey::from_pem(const std::string& private_pem) {
  Handle key(PEM_read_bio_PrivateKey(reading(private_pem).get(), nullptr, nullptr, nullptr));
  require(key != nullptr && EVP_PKEY_is_a(key.get(), "ED25519") == 1, "not an Ed25519 private key");
  return SigningKey(std::move(key));
}

std::string SigningKey::private_pem() const {
  const Bio bio(BIO_new(BIO_s_secmem()));
  require(
      bio && PEM_write_bio_PKCS8PrivateKey(bio.get(), key_.get(), nullptr, nullptr, 0, nullptr, nullptr) == 1,
      "the private key cannot be written");
  return text_of(bio.get());
}

std::string SigningKey::public_pem() const {
  const Bio bio(BIO_new(BIO_s_mem()));
  require(bio && PEM_write_bio_PUBKEY(bio.get(), key_.get()) == 1, "the public key cannot be written");
  return text_of(bio.get());
}

std::string SigningKey::sign(std::string_view message) const {
  const Context context(EVP_MD_CTX_new());
  std::string signature(signature_bytes, '\0');
  std::size_t size = signature.size();
  require(context && EVP_DigestSignInit(context.get(), nullptr, nullptr, nullptr, key_.get()) == 1 &&
              EVP_DigestSign(context.get(), reinterpret_cast<unsigned char*>(signature.data()), &size,
                             bytes_of(message), message.size()) == 1 &&
              size == signature_bytes,
          "the checkpoint cannot be signed");
  return signature;
}

bool signature_holds(const std::string& public_pem, std::string_view message, std::string_view signature) {
  const SigningKey::Handle key(PEM_read_bio_PUBKEY(reading(public_pem).get(), nullptr, nullptr, nullptr));
  if (!key || EVP_PKEY_is_a(key.get(), "ED25519") != 1) {
    return false;
  }
  const Context context(EVP_MD_CTX_new());
  return context && EVP_DigestVerifyInit(context.get(), nullptr, nullptr, nullptr, key.get()) == 1 &&
         EVP_DigestVerify(context.get(), bytes_of(signature), signature.size(), bytes_of(message),
                          message.size()) == 1;
}

void wipe(std::string& secret) {
  OPENSSL_cleanse(secret.data(), secret.size());
  secret.clear();
}

}  // namespace dryclock::seal
