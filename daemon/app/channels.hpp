// The configuration's channels, in the terms of the part that delivers.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "app/publisher.hpp"
#include "config/config.hpp"
#include "notify/channels.hpp"

namespace dryclock::app {

[[nodiscard]] std::map<std::string, notify::Deliver> make_channels(const Config& config,
                                                                   const std::function<Time()>& now);
// What is spoken on each of them.
[[nodiscard]] std::vector<Publisher::Channel> ways_out(const Config& config);

// A mail's text: the alert that `payload` is, what to do about it, and when it was raised; `subject` alone
// where it is none.
[[nodiscard]] std::string letter(const std::string& subject, const std::string& payload,
                                 const wording::Words& words);

// What a channel gets when somebody asks whether it works: an alert that is none. In its own words.
[[nodiscard]] Outgoing test_message(const Config& config, const std::string& channel, Time now);

}  // namespace dryclock::app
