#include "base/clock.hpp"

namespace dryclock {

Time SystemClock::now() const {
  return std::chrono::floor<Millis>(std::chrono::system_clock::now());
}

}  // namespace dryclock
