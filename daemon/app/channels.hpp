// The configuration's channels, in the terms of the part that delivers.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "config/config.hpp"
#include "notify/channels.hpp"

namespace dryclock::app {

[[nodiscard]] std::map<std::string, notify::Deliver> make_channels(const std::vector<NotifyChannel>& channels,
                                                                   const std::function<Time()>& now);

// What a channel gets when somebody asks whether it works: an alert that is none.
[[nodiscard]] Outgoing test_message(const std::string& channel, Time now);

}  // namespace dryclock::app
