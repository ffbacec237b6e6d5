// A repeating timer on the core thread; ends when it is destroyed.
#pragma once

#include <boost/asio/steady_timer.hpp>
#include <functional>

#include "base/time.hpp"

namespace dryclock::app {

class Every {
 public:
  Every(boost::asio::io_context& io, Millis interval, std::function<void()> work)
      : timer_(io), interval_(interval), work_(std::move(work)) {
    wait();
  }

 private:
  void wait() {
    timer_.expires_after(interval_);
    timer_.async_wait([this](const boost::system::error_code& error) {
      if (!error) {
        work_();
        wait();
      }
    });
  }

  boost::asio::steady_timer timer_;
  Millis interval_;
  std::function<void()> work_;
};

}  // namespace dryclock::app
