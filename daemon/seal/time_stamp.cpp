#include "seal/time_stamp.hpp"

#include <openssl/asn1.h>
#include <openssl/err.h>
#include <openssl/objects.h>
#include <openssl/rand.h>
#include <openssl/ts.h>
#include <openssl/x509_vfy.h>

#include <array>
#include <ctime>
#include <memory>
#include <stdexcept>

#include "base/sha256.hpp"
#include "seal/checkpoint.hpp"

namespace dryclock::seal {
namespace {

struct Free {
  void operator()(TS_REQ* p) const { TS_REQ_free(p); }
  void operator()(TS_RESP* p) const { TS_RESP_free(p); }
  void operator()(TS_MSG_IMPRINT* p) const { TS_MSG_IMPRINT_free(p); }
  void operator()(TS_VERIFY_CTX* p) const { TS_VERIFY_CTX_free(p); }
  void operator()(X509_ALGOR* p) const { X509_ALGOR_free(p); }
  void operator()(ASN1_INTEGER* p) const { ASN1_INTEGER_free(p); }
  void operator()(X509_STORE* p) const { X509_STORE_free(p); }
};
template <class T>
using Handle = std::unique_ptr<T, Free>;

constexpr std::size_t nonce_bytes = 16;

void must(bool done) {
  if (!done) {
    throw std::runtime_error("a time stamp query cannot be made");
  }
}

// The library's last word, for people.
std::string library_says(const std::string& otherwise) {
  const auto code = ERR_peek_last_error();
  const char* text = code == 0 ? nullptr : ERR_reason_error_string(code);
  ERR_clear_error();
  return text == nullptr ? otherwise : otherwise + ": " + text;
}

Handle<TS_RESP> parse(const std::string& answer) {
  const auto* begin = reinterpret_cast<const unsigned char*>(answer.data());
  return Handle<TS_RESP>{d2i_TS_RESP(nullptr, &begin, static_cast<long>(answer.size()))};
}

}  // namespace

std::string stamp_name(std::int64_t number) {
  return "checkpoints/" + padded(number) + ".tsr";
}

std::string time_stamp_query(std::string_view bytes) {
  auto digest = sha256(bytes);
  const Handle<TS_REQ> request{TS_REQ_new()};
  const Handle<TS_MSG_IMPRINT> imprint{TS_MSG_IMPRINT_new()};
  const Handle<X509_ALGOR> algorithm{X509_ALGOR_new()};
  const Handle<ASN1_INTEGER> nonce{ASN1_INTEGER_new()};
  must(request && imprint && algorithm && nonce);
  X509_ALGOR_set0(algorithm.get(), OBJ_nid2obj(NID_sha256), V_ASN1_NULL, nullptr);
  must(TS_MSG_IMPRINT_set_algo(imprint.get(), algorithm.get()) == 1);
  must(TS_MSG_IMPRINT_set_msg(imprint.get(), digest.data(), static_cast<int>(digest.size())) == 1);
  std::array<unsigned char, nonce_bytes> random{};
  must(RAND_bytes(random.data(), static_cast<int>(random.size())) == 1);
  random[0] = 1;  // positive, and of one length
  must(ASN1_STRING_set(nonce.get(), random.data(), static_cast<int>(random.size())) == 1);
  must(TS_REQ_set_version(request.get(), 1) == 1 &&
       TS_REQ_set_msg_imprint(request.get(), imprint.get()) == 1 &&
       TS_REQ_set_nonce(request.get(), nonce.get()) == 1 && TS_REQ_set_cert_req(request.get(), 1) == 1);
  unsigned char* der = nullptr;
  const int length = i2d_TS_REQ(request.get(), &der);
  must(length > 0);
  std::string out(reinterpret_cast<const char*>(der), static_cast<std::size_t>(length));
  OPENSSL_free(der);
  return out;
}

Result<void> check_granted(const std::string& query, const std::string& answer) {
  const auto* begin = reinterpret_cast<const unsigned char*>(query.data());
  const Handle<TS_REQ> request{d2i_TS_REQ(nullptr, &begin, static_cast<long>(query.size()))};
  const auto response = parse(answer);
  if (!request || !response) {
    return Problem{library_says("the answer is no time stamp"), {}};
  }
  // Hash, nonce and status; who signed it is asked of whoever verifies.
  const Handle<TS_VERIFY_CTX> context{TS_REQ_to_TS_VERIFY_CTX(request.get(), nullptr)};
  if (!context) {
    return Problem{"no memory", {}};
  }
  TS_VERIFY_CTX_set_flags(context.get(), static_cast<int>(TS_VFY_VERSION | TS_VFY_IMPRINT | TS_VFY_NONCE));
  if (TS_RESP_verify_response(context.get(), response.get()) != 1) {
    return Problem{library_says("the authority does not grant it"), {}};
  }
  return {};
}

Result<Time> time_of_stamp(std::string_view bytes, const std::string& answer,
                           const std::filesystem::path& authority) {
  const auto response = parse(answer);
  auto* info = response ? TS_RESP_get_tst_info(response.get()) : nullptr;
  if (info == nullptr) {
    return Problem{library_says("is no time stamp"), {}};
  }
  const Handle<TS_VERIFY_CTX> context{TS_VERIFY_CTX_new()};
  const auto digest = sha256(bytes);
  // The context owns what it is given.
  auto* imprint = static_cast<unsigned char*>(OPENSSL_memdup(digest.data(), digest.size()));
  if (!context || imprint == nullptr) {
    return Problem{"no memory", {}};
  }
  TS_VERIFY_CTX_set_imprint(context.get(), imprint, static_cast<long>(digest.size()));
  unsigned flags = TS_VFY_VERSION | TS_VFY_IMPRINT;
  if (!authority.empty()) {
    Handle<X509_STORE> store{X509_STORE_new()};
    if (!store || X509_STORE_load_locations(store.get(), authority.c_str(), nullptr) != 1) {
      return Problem{library_says("no certificate can be read"), authority.string()};
    }
    TS_VERIFY_CTX_set_store(context.get(), store.release());
    flags |= TS_VFY_SIGNATURE;
  }
  TS_VERIFY_CTX_set_flags(context.get(), static_cast<int>(flags));
  if (TS_RESP_verify_response(context.get(), response.get()) != 1) {
    return Problem{library_says("does not hold"), {}};
  }
  std::tm broken{};
  if (ASN1_TIME_to_tm(TS_TST_INFO_get_time(info), &broken) != 1) {
    return Problem{"tells no time", {}};
  }
  constexpr std::int64_t millis = 1000;
  return from_unix_ms(std::int64_t{::timegm(&broken)} * millis);
}

}  // namespace dryclock::seal
