#include "app/timers.hpp"

#include <boost/asio/io_context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <utility>

namespace dryclock::app {

// The timer's handler may still be queued when Every ends: it finds the state gone, and does nothing.
struct Every::State : std::enable_shared_from_this<Every::State> {
  State(boost::asio::io_context& io, Millis every, std::function<void()> job)
      : timer(io), interval(every), work(std::move(job)) {}

  void wait() {
    timer.expires_after(interval);
    timer.async_wait([weak = weak_from_this()](const boost::system::error_code& error) {
      const auto self = weak.lock();
      if (!error && self) {
        self->work();
        self->wait();
      }
    });
  }

  boost::asio::steady_timer timer;
  Millis interval;
  std::function<void()> work;
};

Every::Every(boost::asio::io_context& io, Millis interval, std::function<void()> work)
    : state_(std::make_shared<State>(io, interval, std::move(work))) {
  state_->wait();
}

Every::~Every() = default;

void after(boost::asio::io_context& io, Millis wait, std::function<void()> work) {
  const auto timer = std::make_shared<boost::asio::steady_timer>(io, wait);
  // The handler keeps its timer.
  timer->async_wait([timer, work = std::move(work)](const boost::system::error_code& error) {
    if (!error) {
      work();
    }
  });
}

}  // namespace dryclock::app
