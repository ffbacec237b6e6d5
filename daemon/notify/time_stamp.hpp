// The way to a time stamping authority: one POST as RFC 3161, section 3.4, has it.
#pragma once

#include <string>

#include "base/result.hpp"
#include "base/time.hpp"

namespace dryclock::notify {

// `query`: a TimeStampReq; the answer's bytes come back, and are the caller's to judge. Takes at most the
// time-out. Problem: no answer, another status than 200, another content type.
[[nodiscard]] Result<std::string> ask_time_stamp(const std::string& url, const std::string& query,
                                                 Millis time_out = std::chrono::seconds{15});

}  // namespace dryclock::notify
