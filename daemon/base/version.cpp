#include "base/version.hpp"

namespace dryclock {

const char* const version = DRYCLOCK_VERSION;

}  // namespace dryclock
