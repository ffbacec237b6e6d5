#include "play/message.hpp"

#include <fmt/core.h>

namespace dryclock::play {

std::string sensor_payload(double temperature, double humidity_pct, Time at) {
  return fmt::format(R"({{"temperature":{:.2f},"humidity":{:.2f},"at":"{}"}})", temperature, humidity_pct,
                     to_rfc3339(at));
}

}  // namespace dryclock::play
