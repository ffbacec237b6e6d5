// Where this machine is reached from others in the shop.
#pragma once

#include <string>
#include <vector>

namespace dryclock::cli {

// IPv4 addresses of the interfaces that are up, loopback and link-local ones left out; those that are private
// by RFC 1918 come first.
[[nodiscard]] std::vector<std::string> own_addresses();

}  // namespace dryclock::cli
