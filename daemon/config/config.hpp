// What dryclock.toml says: the engine's setup and how the daemon meets the world. Data only; load_config.hpp
// fills it.
#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/log.hpp"
#include "base/problem.hpp"
#include "domain/names.hpp"
#include "mqtt/options.hpp"

namespace dryclock {

// What the daemon takes for "now": the machine's clock, or the times that recorded messages carry.
enum class ClockSource : std::uint8_t { system, messages };
enum class NotifyKind : std::uint8_t { webhook, mail, command };

struct StoreSettings {
  std::filesystem::path path = "/var/lib/dryclock/dryclock.db";
  int ballast_mib = 32;  // room that is freed when the disk is full; 0: none
};

struct SealSettings {
  std::filesystem::path keys_folder;  // of the private keys; empty: "keys" beside the database
  std::string time_stamp_url;         // of an authority (RFC 3161); empty: none is asked
};

struct HttpSettings {
  std::string address = "127.0.0.1";
  std::uint16_t port = 8077;
  bool require_token = false;        // of who comes from this machine too
  std::vector<std::string> hosts;    // names the daemon answers to, beside localhost and its own address
  std::filesystem::path token_file;  // empty: no token asked for (loopback only)
};

// Where alerts go. Which fields count depends on the kind.
struct NotifyChannel {
  std::string name;
  NotifyKind kind = NotifyKind::webhook;
  AlertLevel least = AlertLevel::warning;
  Manner manner{};                    // in which it is told
  std::string url;                    // webhook: http(s)://; mail: smtp(s)://host:port
  std::string user;                   // mail
  std::filesystem::path secret_file;  // webhook: bearer token; mail: password
  std::string from;                   // mail
  std::vector<std::string> to;        // mail
  std::vector<std::string> command;   // command: program and arguments, no shell; the alert on its stdin
};

// Times of the local day. From > to: over midnight.
struct QuietHours {
  std::chrono::minutes from{}, to{};
};

struct Config {
  ClockSource clock = ClockSource::system;
  log::Level log_level = log::Level::info;
  StoreSettings store;
  SealSettings seal;
  HttpSettings http;
  mqtt::Options mqtt;
  std::vector<NotifyChannel> notify;
  std::optional<QuietHours> quiet;  // alerts below urgent wait until their end; absent: never
  Setup setup;
  std::vector<Problem> warnings{};  // of what is out of date in the files, and was read all the same
};

template <>
inline constexpr std::array words<ClockSource>{std::string_view{"system"}, std::string_view{"messages"}};
template <>
inline constexpr std::array words<NotifyKind>{std::string_view{"webhook"}, std::string_view{"mail"},
                                              std::string_view{"command"}};
template <>
inline constexpr std::array words<log::Level>{std::string_view{"debug"}, std::string_view{"info"},
                                              std::string_view{"warning"}, std::string_view{"error"}};

}  // namespace dryclock
