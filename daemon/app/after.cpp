#include "app/after.hpp"

#include <boost/asio/io_context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <memory>
#include <utility>

namespace dryclock::app {

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
