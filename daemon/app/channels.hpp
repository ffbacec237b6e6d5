// The configuration's words for broker and channels, in the terms of the parts that use them.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "config/config.hpp"
#include "mqtt/options.hpp"
#include "notify/channels.hpp"

namespace dryclock::app {

[[nodiscard]] mqtt::Options to_options(const MqttSettings& settings);
[[nodiscard]] std::map<std::string, notify::Deliver> make_channels(const std::vector<NotifyChannel>& channels,
                                                                   const std::function<Time()>& now);

}  // namespace dryclock::app
