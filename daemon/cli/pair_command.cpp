#include <fmt/core.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <boost/json.hpp>
#include <memory>

#include "base/wellformed.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/own_addresses.hpp"
#include "cli/qr_text.hpp"
#include "config/config_error.hpp"
#include "config/load_config.hpp"
#include "config/shipped_files.hpp"
#include "config/token_file.hpp"

namespace dryclock::cli {
namespace {

namespace json = boost::json;

constexpr auto how_to_set = R"(To let a phone in, put this into {}:

[http]
address = "0.0.0.0"
token_file = "/var/lib/dryclock/tokens"

then restart the daemon (systemctl restart dryclockd) and run this again. Who is on your network can then reach the
daemon's address; what they see without a token is an empty page.)";

struct GivenPair {
  std::string config = "/etc/dryclock/dryclock.toml", name, host, withdraw;
  bool read_only = false, list = false;
};

HttpSettings settings_of(const Session& session, const GivenPair& given) {
  const auto shipped = find_shipped_files(session.globals().config_dir);
  if (!shipped) {
    throw Failure(ExitCode::bad_input, to_string(shipped.error()));
  }
  HttpSettings http;
  try {
    http = load_config(given.config, *shipped).http;
  } catch (const ConfigError& error) {
    throw Failure(ExitCode::bad_input, error.what());
  }
  if (http.token_file.empty()) {
    throw Failure(ExitCode::bad_input, fmt::format("no token_file is set. {}",
                                                   fmt::format(fmt::runtime(how_to_set), given.config)));
  }
  // systemd copies a credential once, when the daemon starts.
  if (http.token_file.string().starts_with("/run/credentials/")) {
    throw Failure(ExitCode::bad_input,
                  fmt::format("{} is a credential of systemd's, which nobody can add to while the daemon "
                              "runs. Set token_file = \"/var/lib/dryclock/tokens\" in {}",
                              http.token_file.string(), given.config));
  }
  return http;
}

std::vector<PairedDevice> devices_of(const HttpSettings& http) {
  auto devices = read_tokens(http.token_file);
  if (!devices) {
    throw Failure(ExitCode::bad_input, to_string(devices.error()));
  }
  return std::move(*devices);
}

// "phone", or "phone-2" and so on where there is one.
std::string free_name(const std::vector<PairedDevice>& devices, const std::string& wanted) {
  const auto taken = [&](const std::string& name) {
    return std::ranges::any_of(devices, [&](const PairedDevice& one) { return one.name == name; });
  };
  std::string name = wanted;
  for (int number = 2; taken(name); ++number) {
    name = fmt::format("{}-{}", wanted, number);
  }
  return name;
}

// Where others find the daemon; the first is the one for the QR code.
std::vector<std::string> hosts_of(const HttpSettings& http, const GivenPair& given) {
  if (!given.host.empty()) {
    return {given.host};
  }
  const bool everywhere = http.address == "0.0.0.0" || http.address == "::";
  auto hosts = everywhere ? own_addresses() : std::vector{http.address};
  if (hosts.empty()) {
    throw Failure(ExitCode::refused, "this machine has no address on a network; connect it first");
  }
  return hosts;
}

bool only_this_machine(const HttpSettings& http) {
  return http.address.starts_with("127.") || http.address == "::1" || http.address == "localhost";
}

void list(const Session& session, const GivenPair& given) {
  const auto http = settings_of(session, given);
  const auto devices = devices_of(http);
  if (session.globals().json) {
    json::array out;
    for (const auto& device : devices) {
      out.push_back(json::object{{"name", device.name}, {"read_only", device.read_only}});
    }
    fmt::print("{}\n", json::serialize(json::object{{"devices", std::move(out)}}));
    return;
  }
  const auto words = session.words_alone();
  if (devices.empty()) {
    fmt::print("{}\n", words.say("client-pair.none"));
  }
  for (const auto& device : devices) {
    const auto name = device.name.empty() ? words.say("client-pair.without-name") : device.name;
    fmt::print("{}\n",
               device.read_only ? words.say("client-pair.only-looks", {say::text("device", name)}) : name);
  }
}

void withdraw(const Session& session, const GivenPair& given) {
  const auto http = settings_of(session, given);
  if (const auto done = withdraw_token(http.token_file, given.withdraw); !done) {
    throw Failure(ExitCode::bad_input, to_string(done.error()));
  }
  if (session.globals().json) {
    fmt::print("{}\n", json::serialize(json::object{{"withdrawn", given.withdraw}}));
  } else {
    fmt::print("{}\n",
               session.words_alone().say("client-pair.withdrawn", {say::text("device", given.withdraw)}));
  }
}

void pair(const Session& session, const GivenPair& given) {
  const auto http = settings_of(session, given);
  if (only_this_machine(http) && !http.require_token) {  // else a proxy stands before it
    throw Failure(ExitCode::bad_input,
                  fmt::format("the daemon listens on {} alone, where no phone reaches it. {}", http.address,
                              fmt::format(fmt::runtime(how_to_set), given.config)));
  }
  const auto hosts = hosts_of(http, given);
  const auto devices = devices_of(http);
  PairedDevice device;
  device.read_only = given.read_only;
  device.name = given.name.empty() ? free_name(devices, given.read_only ? "screen" : "phone") : given.name;
  if (const auto wrong = wrong_with_name(device.name); !wrong.empty()) {
    throw Failure(ExitCode::usage, "--name: " + wrong);
  }
  device.token = fresh_token();
  if (const auto added = add_token(http.token_file, device); !added) {
    throw Failure(ExitCode::bad_input, to_string(added.error()));
  }
  const auto address = [&](const std::string& host) {
    return fmt::format("http://{}:{}/pair?token={}",
                       host.find(':') == std::string::npos ? host : "[" + host + "]", http.port,
                       device.token);
  };
  if (session.globals().json) {
    fmt::print("{}\n", json::serialize(json::object{{"name", device.name},
                                                    {"read_only", device.read_only},
                                                    {"address", address(hosts.front())}}));
    return;
  }
  const auto words = session.words_alone();
  fmt::print("{}\n{}\n\n", qr_text(address(hosts.front()), isatty(STDOUT_FILENO) == 1),
             address(hosts.front()));
  for (std::size_t i = 1; i < hosts.size(); ++i) {
    fmt::print("{}\n", words.say("client-pair.or", {say::text("address", address(hosts[i]))}));
  }
  fmt::print("{}\n", words.say(device.read_only ? "client-pair.guide-looking" : "client-pair.guide",
                               {say::text("device", device.name)}));
}

}  // namespace

void add_pair_command(CLI::App& app, Action& action) {
  const auto given = std::make_shared<GivenPair>();
  auto* command = app.add_subcommand(
      "pair", "Let a phone in: prints an address, and a QR code of it. To be run on the daemon's machine");
  command->add_option("--name", given->name,
                      "Of the device, to take it back by; left out: phone, phone-2 ...");
  command->add_flag("--read-only", given->read_only,
                    "It may look, and change nothing: for a screen on the wall");
  command->add_option("--host", given->host, "Name or address under which the phone finds this machine");
  command->add_option("-c,--config", given->config, "The daemon's configuration file")->capture_default_str();
  auto* all = command->add_flag("--list", given->list, "The devices that are let in");
  command->add_option("--withdraw", given->withdraw, "Lets the device of this name in no longer")
      ->excludes(all);
  command->callback([given, &action] {
    action = [given](Session& s) {
      given->list ? list(s, *given) : !given->withdraw.empty() ? withdraw(s, *given) : pair(s, *given);
    };
  });
}

}  // namespace dryclock::cli
