// Time stamps of RFC 3161: an authority outside the shop signs that a hash was there at a time, so that even
// the shop cannot make its seal anew unseen. The stamp of checkpoint NUMBER is checkpoints/NUMBER.tsr, over
// the bytes of NUMBER.sha256.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "base/time.hpp"

namespace dryclock::seal {

[[nodiscard]] std::string stamp_name(std::int64_t number);

// A TimeStampReq in DER: SHA-256 of the bytes, a random nonce, the authority's certificate asked for.
// Throws std::runtime_error where the library refuses.
[[nodiscard]] std::string time_stamp_query(std::string_view bytes);

// Whether the answer grants what was asked: its status, hash and nonce. Problem: what it says instead.
[[nodiscard]] Result<void> check_granted(const std::string& query, const std::string& answer);

// The time that the stamp over these bytes tells. `authority`: a file with the certificates that are trusted;
// empty: the hash is compared, and the signature is not checked. Problem: it is of other bytes, or not signed
// by them.
[[nodiscard]] Result<Time> time_of_stamp(std::string_view bytes, const std::string& answer,
                                         const std::filesystem::path& authority);

}  // namespace dryclock::seal
