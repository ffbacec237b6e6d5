// No file of this process can be written while it lives, as on a disk without room.
#pragma once

#include <sys/resource.h>

#include <csignal>
#include <stdexcept>

namespace dryclock::test {

class FullDisk {
 public:
  FullDisk() {
    std::signal(SIGXFSZ, SIG_IGN);  // NOLINT(cert-err33-c)
    if (::getrlimit(RLIMIT_FSIZE, &before_) != 0) {
      throw std::runtime_error("no limit of files is known");
    }
    set({0, before_.rlim_max});
  }
  FullDisk(const FullDisk&) = delete;
  FullDisk& operator=(const FullDisk&) = delete;
  ~FullDisk() { ::setrlimit(RLIMIT_FSIZE, &before_); }

 private:
  static void set(rlimit limit) {
    if (::setrlimit(RLIMIT_FSIZE, &limit) != 0) {
      throw std::runtime_error("files cannot be limited");
    }
  }
  rlimit before_{};
};

}  // namespace dryclock::test
