#include "base/thread_owner.hpp"

#include <cstdio>
#include <cstdlib>

namespace dryclock {

void ThreadOwner::adopt() {
  owner_ = std::this_thread::get_id();
}

void ThreadOwner::check() const {
#ifndef NDEBUG
  if (owner_ != std::thread::id{} && owner_ != std::this_thread::get_id()) {
    std::fprintf(stderr, "thread check: only the %s thread may do this\n", name_);
    std::abort();
  }
#endif
}

}  // namespace dryclock
