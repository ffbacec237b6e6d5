// dryclockd: reads its configuration, then runs until it is told to stop.

#include <CLI/CLI.hpp>
#include <cstdio>
#include <filesystem>

#include "app/app.hpp"
#include "app/gone.hpp"
#include "app/rebuild.hpp"
#include "app/systemd.hpp"
#include "base/log.hpp"
#include "base/version.hpp"
#include "config/config_error.hpp"
#include "config/load_config.hpp"
#include "config/shipped_files.hpp"

namespace {

constexpr int exit_config = 78;  // EX_CONFIG of sysexits.h
constexpr int exit_software = 70;

// Settings that are sound are so whatever stands in the shop: the journal only tells what they will meet.
int check(const dryclock::Config& config, const std::filesystem::path& file) {
  for (const auto& warning : config.warnings) {
    std::printf("%s\n", to_string(warning).c_str());
  }
  std::printf("%s is sound\n", file.c_str());
  const auto found = dryclock::app::compare_with_journal(config);
  if (!found) {
    std::printf("what stands in the shop was not looked at: %s\n", to_string(found.error()).c_str());
    return 0;
  }
  for (const auto& line : *found) {
    std::printf("%s\n", line.c_str());
  }
  return 0;
}

int run(int argc, char** argv) {
  CLI::App line{"dryclockd watches vehicles dry after film has been laid on them.", "dryclockd"};
  std::filesystem::path file = "/etc/dryclock/dryclock.toml";
  std::string shipped;
  bool check_only = false;
  bool rebuild = false;
  line.add_option("-c,--config", file, "the configuration file")->capture_default_str();
  line.add_option("--config-dir", shipped, "where the catalogue files that come with dryclock are");
  line.add_flag("--check", check_only,
                "say whether the configuration is sound, and what in the shop it no longer has, and end");
  line.add_flag(
      "--rebuild", rebuild,
      "with the daemon stopped: fill the tables that follow from the journal again, send nothing, and end");
  line.set_version_flag("--version", dryclock::version);
  CLI11_PARSE(line, argc, argv);

  try {
    const auto catalogue = dryclock::find_shipped_files(shipped);
    if (!catalogue) {
      std::fprintf(stderr, "%s\n", to_string(catalogue.error()).c_str());
      return exit_config;
    }
    dryclock::Config config = dryclock::load_config(file, *catalogue);
    if (check_only) {
      return check(config, file);
    }
    dryclock::log::start(config.log_level, dryclock::app::under_systemd());
    for (const auto& warning : config.warnings) {
      dryclock::log::warning("{}", to_string(warning));
    }
    if (rebuild) {
      return dryclock::app::rebuild(config);
    }
    return dryclock::app::App{std::move(config)}.run();
  } catch (const dryclock::ConfigError& error) {
    std::fprintf(stderr, "%s\n", error.what());
    const auto count = error.problems().size();
    std::fprintf(stderr, "%zu mistake%s in the configuration; nothing was started\n", count,
                 count == 1 ? "" : "s");
    return exit_config;
  }
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(argc, argv);
  } catch (const std::exception& error) {
    std::fprintf(stderr, "dryclockd: %s\n", error.what());
    return exit_software;
  }
}
