// Timers of the core thread.
#pragma once

#include <functional>
#include <memory>

#include "base/time.hpp"

namespace boost::asio {
class io_context;
}

namespace dryclock::app {

// Goes off again and again; ends when it is destroyed.
class Every {
 public:
  Every(boost::asio::io_context& io, Millis interval, std::function<void()> work);
  ~Every();

 private:
  struct State;
  std::shared_ptr<State> state_;
};

// Goes off once, when `wait` has gone by; never where `io` has stopped before.
void after(boost::asio::io_context& io, Millis wait, std::function<void()> work);

}  // namespace dryclock::app
