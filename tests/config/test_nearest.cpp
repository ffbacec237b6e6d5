#include "config/nearest.hpp"

#include <doctest/doctest.h>

using dryclock::config::did_you_mean;
using dryclock::config::nearest;

TEST_CASE("the nearest word, when one is near") {
  CHECK(nearest("prot", {"host", "port", "base"}) == "port");  // two letters swapped
  CHECK(nearest("tempratur", {"temperature", "time"}) == "temperature");
  CHECK(nearest("usr", {"tls", "user"}) == "user");
  CHECK(nearest("thickness", {"name", "thickness_um"}) == "thickness_um");  // begins like it
  CHECK(nearest("zebra", {"port", "host"}).empty());
  CHECK(nearest("x", {"y"}).empty());  // shares no letter
  CHECK(nearest("port", {}).empty());
  CHECK(did_you_mean("prot", {"port"}) == ", did you mean \"port\"?");
  CHECK(did_you_mean("zebra", {"port"}).empty());
}
