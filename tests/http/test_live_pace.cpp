#include <doctest/doctest.h>

#include "http/live_pace.hpp"

namespace dryclock::http {

TEST_CASE("boards are sent at once, then no closer together than the gap") {
  using std::chrono::milliseconds;
  LivePace pace{milliseconds{500}};
  const LivePace::Instant start{std::chrono::hours{1}};
  CHECK(pace.changed(start) == start);
  CHECK_FALSE(pace.changed(start));  // on its way
  pace.sent(start);
  CHECK(pace.changed(start + milliseconds{100}) == start + milliseconds{500});
  CHECK_FALSE(pace.changed(start + milliseconds{200}));
  pace.sent(start + milliseconds{500});
  CHECK(pace.changed(start + milliseconds{5000}) == start + milliseconds{5000});
}

}  // namespace dryclock::http
