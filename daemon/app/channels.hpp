// The configuration's words for broker, channels and tokens, in the terms of the parts that use them.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "config/config.hpp"
#include "http/access.hpp"
#include "mqtt/options.hpp"
#include "notify/channels.hpp"

namespace dryclock::app {

[[nodiscard]] mqtt::Options to_options(const MqttSettings& settings);
[[nodiscard]] std::map<std::string, notify::Deliver> make_channels(const std::vector<NotifyChannel>& channels,
                                                                   const std::function<Time()>& now);
// The token file: a token a line, "read-only TOKEN" for a wall screen; empty lines and # comments. Only
// their hashes are kept. Problem: the file cannot be read, or holds no token.
[[nodiscard]] Result<http::Access> read_access(const HttpSettings& settings);

}  // namespace dryclock::app
