// Times of the tests of this folder: a Monday in March.
#pragma once

#include "base/time.hpp"

namespace dryclock::app {

inline Time utc(const char* text) {
  return parse_rfc3339(text).value();
}

inline const Time morning = utc("2026-03-02T07:50:00Z");
inline const Time monday = utc("2026-03-02T08:00:00Z");

}  // namespace dryclock::app
