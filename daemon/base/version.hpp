// This build's version.
#pragma once

namespace dryclock {

extern const char* const version;

}  // namespace dryclock
