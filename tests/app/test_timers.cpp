#include <doctest/doctest.h>

#include <boost/asio/io_context.hpp>
#include <string>

#include "app/timers.hpp"

namespace dryclock::app {

TEST_CASE("each goes off once, in the order of time, on the thread that runs the context") {
  boost::asio::io_context io;
  std::string order;
  after(io, Millis{30}, [&] { order += "b"; });
  after(io, Millis{1}, [&] { order += "a"; });
  CHECK(order.empty());
  io.run();  // until nothing is left
  CHECK(order == "ab");
}

TEST_CASE("what a stopped context leaves never runs") {
  bool ran = false;
  {
    boost::asio::io_context io;
    after(io, Millis{1}, [&] { ran = true; });
  }
  CHECK(!ran);
}

}  // namespace dryclock::app
