// One journal row as one line of JSON, in one form only: the same row gives the same bytes for ever.
//   {"seq":7,"kind":"message","received":"2026-03-01T12:00:00.000Z","boottime_ms":86400000,"session":3,
//    "topic":"bay/front","qos":1,"dup":false,"retained":false,"cut":false,"payload":"21.5"}
// boottime_ms and session show where the wall clock was stepped: within one session both run alike. What else
// the database keeps of a row, the sender's key, stands in the event itself.
// The keys stand in this order, without spaces. Text that is not UTF-8 (RFC 3629) stands as base64 (RFC 4648)
// under topic_base64 or payload_base64 instead. Escaped are only '"', '\' and control characters, these as
// \u00xx.
#pragma once

#include <string>

#include "domain/types.hpp"

namespace dryclock::seal {

[[nodiscard]] std::string canonical_line(const JournalRow& row);  // ends with '\n'

}  // namespace dryclock::seal
