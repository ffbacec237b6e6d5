// A repeating timer on the core thread; ends when it is destroyed.
#pragma once

#include <functional>
#include <memory>

#include "base/time.hpp"

namespace boost::asio {
class io_context;
}

namespace dryclock::app {

class Every {
 public:
  Every(boost::asio::io_context& io, Millis interval, std::function<void()> work);
  ~Every();

 private:
  struct State;
  std::shared_ptr<State> state_;
};

}  // namespace dryclock::app
