// Says which thread owns an object, and stops the process when another one touches it. Checked in builds
// with asserts on; free otherwise.
#pragma once

#include <thread>

namespace dryclock {

class ThreadOwner {
 public:
  explicit ThreadOwner(const char* name) : name_(name) {}
  // The calling thread takes ownership; call once, from the thread that will work.
  void adopt();
  void check() const;

 private:
  const char* name_;
  std::thread::id owner_;
};

}  // namespace dryclock
