// A timer of the core thread that goes off once.
#pragma once

#include <functional>

#include "base/time.hpp"

namespace boost::asio {
class io_context;
}

namespace dryclock::app {

// Runs `work` on the core thread when `wait` has gone by; never where `io` has stopped before.
void after(boost::asio::io_context& io, Millis wait, std::function<void()> work);

}  // namespace dryclock::app
