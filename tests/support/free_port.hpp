// A TCP port of 127.0.0.1 that nobody listens on now.
#pragma once

#include <cstdint>

namespace dryclock::test {

[[nodiscard]] std::uint16_t free_port();
// Whether somebody accepts connections there.
[[nodiscard]] bool answers(std::uint16_t port);

}  // namespace dryclock::test
