// Processor time on one pinned core, as the median of repeats; figures as lines that a script can read.
#pragma once

#include <sched.h>
#include <time.h>

#include <algorithm>
#include <cstddef>
#include <cstdio>
#include <utility>
#include <vector>

namespace dryclock::bench {

// Keeps the process on the core it is on, so that no repeat pays for a move.
inline void pin() {
  cpu_set_t one;
  CPU_ZERO(&one);
  CPU_SET(static_cast<unsigned>(std::max(0, sched_getcpu())), &one);
  sched_setaffinity(0, sizeof one, &one);
}

// Seconds this thread has had the processor: what else runs on the machine does not count.
inline double processor_seconds() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

// The upper one of the two in the middle where they are even.
inline double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// Processor seconds that one call takes: the median of `repeats`, after one that warms up.
template <class Work>
double seconds_of(Work work, int repeats = 9) {
  std::vector<double> times;
  work();
  for (int i = 0; i < repeats; ++i) {
    const double begin = processor_seconds();
    work();
    times.push_back(processor_seconds() - begin);
  }
  return median(std::move(times));
}

inline void figure(const char* name, double value, const char* unit) {
  std::printf("figure %s %.6g %s\n", name, value, unit);
  std::fflush(stdout);
}

}  // namespace dryclock::bench
