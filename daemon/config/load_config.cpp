#include "config/load_config.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <utility>

#include "base/local_time.hpp"
#include "base/wellformed.hpp"
#include "config/catalogue_files.hpp"
#include "config/config_error.hpp"
#include "config/read_sensors.hpp"
#include "config/section.hpp"
#include "config/toml_tree.hpp"

namespace dryclock {
namespace {

using config::Section;

constexpr Bounds share{0.0, 1.0};
constexpr Bounds wet_share{0.001, 1.0};  // no film is ever wet nowhere for sure
constexpr int least_ballast_mib = 4;

Millis in_millis(double count, std::chrono::duration<double> unit) {
  return std::chrono::round<Millis>(count * unit);
}
std::chrono::seconds seconds(Section& section, std::string_view key, Millis fallback, int least, int most) {
  const auto usual = std::chrono::floor<std::chrono::seconds>(fallback).count();
  return std::chrono::seconds{section.whole(key, static_cast<int>(usual), least, most)};
}
Millis minutes(Section& section, std::string_view key, Millis fallback, Bounds bounds) {
  const double usual = std::chrono::duration<double, std::ratio<60>>(fallback).count();
  return in_millis(section.number(key, usual, bounds), std::chrono::minutes{1});
}
Millis hours(Section& section, std::string_view key, Millis fallback, Bounds bounds) {
  const double usual = std::chrono::duration<double, std::ratio<3600>>(fallback).count();
  return in_millis(section.number(key, usual, bounds), std::chrono::hours{1});
}

std::filesystem::path path(Section& section, std::string_view key, const std::filesystem::path& folder,
                           const std::filesystem::path& fallback = {}) {
  const std::filesystem::path value = section.text(key, fallback.string());
  return value.empty() ? value : folder / value;  // an absolute right side stands alone
}

Manner read_manner(Section& section, Manner usual) {
  return {section.word("language", usual.language), section.word("temperature", usual.temperature)};
}

void read_site(Section& section, Site& site) {
  site.name = section.text("name");
  site.time_zone = section.text("time_zone");
  if (const auto zone = LocalZone::find(site.time_zone); !zone) {
    section.complain("time_zone", zone.error().what);
  }
  Manner usual;
  if (section.text("dialect") == "us") {  // in the files of programs that spoke English alone
    usual.language = Language::english_us;
  }
  site.manner = read_manner(section, usual);
}

void read_store(Section& section, const std::filesystem::path& folder, StoreSettings& store) {
  store.path = path(section, "path", folder, store.path);
  store.ballast_mib = section.whole("ballast_mib", store.ballast_mib, 0, 4096);
  if (store.ballast_mib > 0 && store.ballast_mib < least_ballast_mib) {
    section.complain("ballast_mib",
                     fmt::format("0, or {} and more: less buys no time on a full disk", least_ballast_mib));
  }
}

void check_url(Section& section, std::string_view key, const std::string& url, std::string_view plain,
               std::string_view secure) {
  if (!url.empty() && !url.starts_with(plain) && !url.starts_with(secure)) {
    section.complain(key, fmt::format("must start with {} or {}", plain, secure));
  }
}

void read_seal(Section& section, const std::filesystem::path& folder, SealSettings& seal) {
  seal.keys_folder = path(section, "keys_folder", folder);
  seal.time_stamp_url = section.text("time_stamp_url");
  check_url(section, "time_stamp_url", seal.time_stamp_url, "http://", "https://");
}

bool is_loopback(const std::string& address) {
  return address.starts_with("127.") || address == "::1" || address == "localhost";
}

void read_http(Section& section, const std::filesystem::path& folder, HttpSettings& http) {
  http.address = section.text("address", http.address);
  http.port = static_cast<std::uint16_t>(section.whole("port", http.port, 0, 65535));
  http.hosts = section.texts("hosts");
  http.token_file = path(section, "token_file", folder);
  if (http.token_file.empty() && !is_loopback(http.address)) {
    section.complain("address", "other machines can reach this address, so token_file must be set as well");
  }
  http.require_token = section.flag("require_token", http.require_token);
  if (http.token_file.empty() && http.require_token) {
    section.complain("require_token", "nobody could be let in: token_file must be set as well");
  }
}

void read_mqtt(Section& section, const std::filesystem::path& folder, mqtt::Options& mqtt) {
  mqtt.host = section.text("host", mqtt.host);
  mqtt.port = static_cast<std::uint16_t>(section.whole("port", mqtt.port, 1, 65535));
  mqtt.client_id = section.text("client_id", mqtt.client_id);
  if (mqtt.client_id.empty()) {
    section.complain("client_id", "must not be empty: the broker keeps messages under it");
  }
  mqtt.base = section.text("base", mqtt.base);
  if (const auto wrong = wrong_with_topic_base(mqtt.base); !wrong.empty()) {
    section.complain("base", wrong);
  }
  mqtt.user = section.text("user");
  mqtt.password_file = path(section, "password_file", folder);
  if (mqtt.user.empty() && !mqtt.password_file.empty()) {
    section.complain("password_file", "user is missing");
  }
  mqtt.tls = section.flag("tls", mqtt.tls);
  mqtt.ca_file = path(section, "ca_file", folder);
  mqtt.keep_alive = seconds(section, "keep_alive_s", mqtt.keep_alive, 60, 3600);
}

NotifyChannel read_channel(Section& section, const std::filesystem::path& folder, Manner shops,
                           std::set<std::string>& names) {
  NotifyChannel channel;
  channel.name = section.new_name("channel", names);
  channel.kind = section.needed_word<NotifyKind>("kind");
  channel.least = section.word("least", channel.least);
  channel.manner = read_manner(section, shops);
  switch (channel.kind) {
    case NotifyKind::webhook:
      channel.url = section.needed_text("url");
      check_url(section, "url", channel.url, "http://", "https://");
      channel.secret_file = path(section, "token_file", folder);
      break;
    case NotifyKind::mail:
      channel.url = section.needed_text("url");
      check_url(section, "url", channel.url, "smtp://", "smtps://");
      channel.user = section.text("user");
      channel.secret_file = path(section, "password_file", folder);
      channel.from = section.needed_text("from");
      channel.to = section.texts("to");
      if (channel.to.empty()) {
        section.complain("to", "at least one address is needed");
      }
      break;
    case NotifyKind::command:
      channel.command = section.texts("command");
      if (channel.command.empty()) {
        section.complain("command", "the program and its arguments are needed");
      }
      break;
  }
  section.finish();
  return channel;
}

std::vector<NotifyChannel> read_notify(Section& root, const std::filesystem::path& folder, Manner shops) {
  std::vector<NotifyChannel> channels;
  // "mqtt" is the built-in channel: every alert is published on it.
  std::set<std::string> names{"mqtt"};
  for (auto& section : root.list("notify")) {
    channels.push_back(read_channel(section, folder, shops, names));
  }
  return channels;
}

std::vector<BaySetup> read_bays(Section& root) {
  constexpr Bounds temperature{-30.0, 60.0};
  constexpr Bounds humidity{1.0, 100.0};
  constexpr Bounds volume{5.0, 100'000.0};
  std::vector<BaySetup> bays;
  std::set<std::string> names;
  root.need("bay");
  for (auto& section : root.list("bay")) {
    BaySetup bay;
    bay.name = section.new_name("bay", names);
    bay.cold_below_c = section.maybe_number("cold_below_c", temperature);
    bay.damp_above_pct = section.maybe_number("damp_above_pct", humidity);
    bay.volume_m3 = section.maybe_number("volume_m3", volume);
    bay.heated = section.flag("heated", false);
    section.finish();
    bays.push_back(std::move(bay));
  }
  return bays;
}

// Keys that have had their day, and what stands instead.
void warn_of_old_milestones(Section& section) {
  constexpr std::array<std::pair<std::string_view, const char*>, 2> old{
      {{"release_bond",
        "passed over: no bond keeps a vehicle any more but that of its edges, leave_bond; the date of full "
        "strength is told as advice, see strength_bond"},
       {"dry_below_g_m2",
        "passed over: what counts is the share of a zone that is still wet, see gone_wet, clear_wet and "
        "pocket_wet"}}};
  for (const auto& [key, instead] : old) {
    if (section.has(key)) {
      section.warn(key, instead);
    }
  }
}

void read_milestones(Section& section, Setup& setup) {
  auto& t = setup.thresholds;
  t.gone_wet = section.number("gone_wet", t.gone_wet, wet_share);
  t.clear_wet = section.number("clear_wet", t.clear_wet, wet_share);
  t.pocket_wet = section.number("pocket_wet", t.pocket_wet, wet_share);
  t.wrap_excess = section.number("wrap_excess", t.wrap_excess, share);
  t.wrap_bond = section.number("wrap_bond", t.wrap_bond, share);
  t.trim_excess = section.number("trim_excess", t.trim_excess, share);
  t.trim_bond = section.number("trim_bond", t.trim_bond, share);
  t.refit_bond = section.number("refit_bond", t.refit_bond, share);
  t.leave_bond = section.number("leave_bond", t.leave_bond, share);
  t.strength_bond = section.number("strength_bond", t.strength_bond, share);
  warn_of_old_milestones(section);
  setup.announce_level = section.number("announce_level", setup.announce_level, {0.5, 0.999});
  setup.least_indoor = hours(section, "least_indoor_h", setup.least_indoor, {0.0, 24.0 * 14});
}

void read_estimate(Section& section, Setup& setup) {
  setup.bridge_after = minutes(section, "bridge_after_min", setup.bridge_after, {1.0, 1440.0});
}

void read_screen(Section& section, ScreenLimits& screen) {
  constexpr Bounds temperature{-60.0, 200.0};
  screen.air_min_c = section.number("air_min_c", screen.air_min_c, temperature);
  screen.air_max_c = section.number("air_max_c", screen.air_max_c, temperature);
  screen.panel_min_c = section.number("panel_min_c", screen.panel_min_c, temperature);
  screen.panel_max_c = section.number("panel_max_c", screen.panel_max_c, temperature);
  if (screen.air_min_c >= screen.air_max_c) {
    section.complain("air_min_c", "must be below air_max_c");
  }
  if (screen.panel_min_c >= screen.panel_max_c) {
    section.complain("panel_min_c", "must be below panel_max_c");
  }
  screen.air_jump_c_per_min = section.number("air_jump_c_per_min", screen.air_jump_c_per_min, {0.1, 100.0});
  screen.rh_jump_pct_per_min =
      section.number("rh_jump_pct_per_min", screen.rh_jump_pct_per_min, {0.1, 100.0});
  screen.spike_confirmations = section.whole("spike_confirmations", screen.spike_confirmations, 1, 20);
  screen.stuck_after = hours(section, "stuck_after_h", screen.stuck_after, {0.1, 240.0});
  screen.skew_limit = minutes(section, "skew_limit_min", screen.skew_limit, {0.1, 1440.0});
}

void read_alerts(Section& section, AlertSettings& alerts) {
  alerts.dwell = minutes(section, "dwell_min", alerts.dwell, {0.0, 240.0});
  alerts.silent_after = minutes(section, "silent_after_min", alerts.silent_after, {1.0, 1440.0});
  alerts.cold_hysteresis_c = section.number("cold_hysteresis_k", alerts.cold_hysteresis_c, {0.0, 10.0});
  alerts.damp_hysteresis_pct = section.number("damp_hysteresis_pct", alerts.damp_hysteresis_pct, {0.0, 30.0});
  alerts.dew_margin_k = section.number("dew_margin_k", alerts.dew_margin_k, {0.0, 15.0});
  alerts.slip_margin = minutes(section, "slip_margin_min", alerts.slip_margin, {0.0, 1440.0});
  alerts.sprayed_g_m2 = section.number("sprayed_g_m2", alerts.sprayed_g_m2, {10.0, 5000.0});
}

// "22:00-06:30"
std::optional<QuietHours> read_quiet(Section& section) {
  const std::string text = section.text("quiet");
  if (text.empty()) {
    return std::nullopt;
  }
  const auto clock = [](std::string_view part) -> std::optional<std::chrono::minutes> {
    constexpr std::string_view digits = "0123456789";
    if (part.size() != 5 || part[2] != ':' || part.find_first_not_of(digits) != 2 ||
        part.find_first_not_of(digits, 3) != std::string_view::npos) {
      return std::nullopt;
    }
    const int hour = (part[0] - '0') * 10 + (part[1] - '0');
    const int past = (part[3] - '0') * 10 + (part[4] - '0');
    return hour < 24 && past < 60 ? std::optional{std::chrono::minutes{hour * 60 + past}} : std::nullopt;
  };
  const auto dash = std::min(text.find('-'), text.size());
  const auto from = clock(std::string_view{text}.substr(0, dash));
  const auto to = clock(std::string_view{text}.substr(std::min(dash + 1, text.size())));
  if (!from || !to || *from == *to) {
    section.complain("quiet", fmt::format("\"{}\": write two times of the day, \"22:00-06:30\"", text));
    return std::nullopt;
  }
  return QuietHours{*from, *to};
}

// Reads a table when it is there, and complains of what is left over in it.
template <class Read>
void in_section(Section& root, std::string_view key, Read read) {
  if (auto section = root.section(key)) {
    read(*section);
    section->finish();
  }
}

void read_all(const config::Node& tree, const std::filesystem::path& folder, config::Problems& problems,
              Config& config) {
  Section root(tree, problems);
  config.clock = root.word("clock", config.clock);
  config.log_level = root.word("log_level", config.log_level);
  in_section(root, "site", [&](Section& s) { read_site(s, config.setup.site); });
  if (const auto zone = LocalZone::find(config.setup.site.time_zone)) {  // a wrong name was reported above
    config.setup.site.time_zone = zone->name();
  }
  in_section(root, "store", [&](Section& s) { read_store(s, folder, config.store); });
  in_section(root, "seal", [&](Section& s) { read_seal(s, folder, config.seal); });
  in_section(root, "http", [&](Section& s) { read_http(s, folder, config.http); });
  in_section(root, "mqtt", [&](Section& s) { read_mqtt(s, folder, config.mqtt); });
  config.notify = read_notify(root, folder, config.setup.site.manner);
  config.setup.bays = read_bays(root);
  auto sensors = config::read_sensors(root, config.setup.bays);
  config.setup.mappings = std::move(sensors.mappings);
  config.setup.sensors = std::move(sensors.about);
  in_section(root, "milestones", [&](Section& s) { read_milestones(s, config.setup); });
  in_section(root, "estimate", [&](Section& s) { read_estimate(s, config.setup); });
  in_section(root, "screen", [&](Section& s) { read_screen(s, config.setup.screen); });
  in_section(root, "alerts", [&](Section& s) {
    read_alerts(s, config.setup.alerts);
    config.quiet = read_quiet(s);
  });
  root.finish();
}

}  // namespace

Config load_config(const std::filesystem::path& file, const std::filesystem::path& shipped) {
  config::Problems problems;
  Config config;
  const auto folder = file.parent_path();
  if (const auto text = config::read_file(file, problems)) {
    if (const auto tree = config::parse_toml(*text, file.string(), problems)) {
      read_all(*tree, folder, problems, config);
    }
  }
  config.setup.catalogue = config::read_catalogue(folder, shipped, problems);
  if (!problems.empty()) {
    throw ConfigError(problems.sorted());
  }
  config.warnings = problems.warnings();
  return config;
}

}  // namespace dryclock
