#include "base/clock.hpp"

#include <time.h>

namespace dryclock {

Millis boot_time() {
  timespec now{};
  ::clock_gettime(CLOCK_BOOTTIME, &now);
  return std::chrono::duration_cast<Millis>(std::chrono::seconds{now.tv_sec} +
                                            std::chrono::nanoseconds{now.tv_nsec});
}

Time SystemClock::now() const {
  return std::chrono::floor<Millis>(std::chrono::system_clock::now());
}

}  // namespace dryclock
