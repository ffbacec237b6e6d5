#include "cli/own_addresses.hpp"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <memory>

namespace dryclock::cli {
namespace {

bool within(std::uint32_t address, std::uint32_t network, unsigned bits) {
  return (address ^ network) >> (32U - bits) == 0;
}
bool is_private(std::uint32_t address) {
  return within(address, 0x0a000000, 8) || within(address, 0xac100000, 12) || within(address, 0xc0a80000, 16);
}
bool is_link_local(std::uint32_t address) {
  return within(address, 0xa9fe0000, 16);
}

}  // namespace

std::vector<std::string> own_addresses() {
  std::vector<std::uint32_t> found;
  ifaddrs* first = nullptr;
  if (::getifaddrs(&first) != 0) {
    return {};
  }
  const std::unique_ptr<ifaddrs, decltype(&::freeifaddrs)> all{first, &::freeifaddrs};
  for (const auto* one = first; one != nullptr; one = one->ifa_next) {
    const bool up = (one->ifa_flags & IFF_UP) != 0 && (one->ifa_flags & IFF_LOOPBACK) == 0;
    if (!up || one->ifa_addr == nullptr || one->ifa_addr->sa_family != AF_INET) {
      continue;
    }
    const auto address = ntohl(reinterpret_cast<const sockaddr_in*>(one->ifa_addr)->sin_addr.s_addr);
    if (!is_link_local(address)) {
      found.push_back(address);
    }
  }
  std::stable_partition(found.begin(), found.end(), is_private);
  std::vector<std::string> out;
  for (const auto address : found) {
    const in_addr in_network_order{htonl(address)};
    std::array<char, INET_ADDRSTRLEN> text{};
    out.emplace_back(::inet_ntop(AF_INET, &in_network_order, text.data(), text.size()));
  }
  return out;
}

}  // namespace dryclock::cli
