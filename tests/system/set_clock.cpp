// Loaded before the daemon's libraries: its clocks are the machine's, moved by what a file tells.
//   SET_CLOCK: a file with three numbers: seconds that the wall clock is moved by, seconds since boot that
//   are added, and whether a time server vouches for the clock (0 or 1; -1: asking is not allowed)
#include <dlfcn.h>
#include <sys/syscall.h>
#include <sys/timex.h>
#include <time.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>

namespace {

struct Setting {
  long wall = 0, boot = 0;
  int synchronized = 0;
};

Setting setting() {
  Setting out;
  const char* path = std::getenv("SET_CLOCK");
  if (FILE* file = path == nullptr ? nullptr : std::fopen(path, "r")) {
    if (std::fscanf(file, "%ld %ld %d", &out.wall, &out.boot, &out.synchronized) != 3) {
      out = Setting{};
    }
    std::fclose(file);
  }
  return out;
}

// Libraries wait until a moment of the kernel's own clock: a moved one would make them wait for days.
bool is_a_librarys(const void* caller) {
  Dl_info where{};
  return ::dladdr(caller, &where) != 0 && std::strstr(where.dli_fname, "paho") != nullptr;
}

}  // namespace

extern "C" int clock_gettime(clockid_t which, timespec* into) noexcept {
  const long result = ::syscall(SYS_clock_gettime, which, into);
  if (result == 0 && (which == CLOCK_REALTIME || which == CLOCK_BOOTTIME) &&
      !is_a_librarys(__builtin_return_address(0))) {
    const Setting now = setting();
    into->tv_sec += now.boot + (which == CLOCK_REALTIME ? now.wall : 0);
  }
  return static_cast<int>(result);
}

extern "C" int adjtimex(timex* into) noexcept {
  const int synchronized = setting().synchronized;
  if (synchronized < 0) {
    errno = EPERM;
    return -1;
  }
  into->status = synchronized != 0 ? 0 : STA_UNSYNC;
  return synchronized != 0 ? TIME_OK : TIME_ERROR;
}
