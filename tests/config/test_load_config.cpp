#include "config/load_config.hpp"

#include <doctest/doctest.h>

#include <regex>

#include "config/config_error.hpp"
#include "support/config_files.hpp"

using namespace dryclock;
using dryclock::test::ScratchFolder;
using dryclock::test::shipped;

namespace {

// The problems of dryclock.toml with this text, each as "line:column: what".
std::vector<std::string> problems_of(std::string_view text) {
  const ScratchFolder folder;
  const auto file = test::write(folder, "dryclock.toml", text);
  try {
    (void)load_config(file, shipped());
  } catch (const ConfigError& error) {
    std::vector<std::string> lines;
    for (const auto& problem : error.problems()) {
      auto line = to_string(problem);
      CHECK(line.starts_with(file.string() + ":"));
      lines.push_back(line.substr(file.string().size() + 1));
    }
    return lines;
  }
  return {};
}

Config config_of(std::string_view text) {
  const ScratchFolder folder;
  return load_config(test::write(folder, "dryclock.toml", text), shipped());
}

constexpr auto one_bay = "[[bay]]\nname = \"front\"\n";

}  // namespace

TEST_CASE("the shipped file loads, and only its examples differ from the defaults") {
  const auto config = load_config(shipped() / "dryclock.toml", shipped());
  CHECK(config.setup.bays.size() == 1);
  CHECK(config.setup.bays[0].cold_below_c == 12.0);
  REQUIRE(config.setup.mappings.size() == 2);
  CHECK(config.setup.mappings[0] == SensorMapping{"front-air", "front", "sensors/front-air",
                                                  Quantity::air_temperature, "/temperature", Unit::celsius,
                                                  1.0, 0.0, ""});
  CHECK(config.setup.mappings[1].unit == Unit::percent);
}

TEST_CASE("a bay is heated where the file says so") {
  CHECK(config_of(std::string{one_bay} + "heated = true\n").setup.bays[0].heated);
  CHECK_FALSE(config_of(one_bay).setup.bays[0].heated);
}

TEST_CASE("every default that the shipped file shows is a known key and the default") {
  const auto text = test::read(shipped() / "dryclock.toml");
  // Settings are "#" and a letter or "["; prose is "# ".
  const auto all_shown = std::regex_replace(text, std::regex("(^|\n)#(?=[a-z[])"), "$1");
  REQUIRE(all_shown != text);
  const auto shown = config_of(all_shown);
  const auto usual = load_config(shipped() / "dryclock.toml", shipped());

  CHECK(shown.clock == usual.clock);
  CHECK(shown.log_level == usual.log_level);
  CHECK(shown.setup.site.name == usual.setup.site.name);
  CHECK(shown.setup.site.time_zone == usual.setup.site.time_zone);
  CHECK(shown.setup.site.manner == usual.setup.site.manner);
  CHECK(shown.store.path == usual.store.path);
  CHECK(shown.store.ballast_mib == usual.store.ballast_mib);
  CHECK(shown.seal.keys_folder == usual.seal.keys_folder);
  CHECK(shown.seal.time_stamp_url == usual.seal.time_stamp_url);
  CHECK(shown.http.address == usual.http.address);
  CHECK(shown.http.port == usual.http.port);
  CHECK(shown.http.hosts == usual.http.hosts);
  CHECK(shown.http.token_file == usual.http.token_file);
  CHECK(shown.http.require_token == usual.http.require_token);
  CHECK(shown.mqtt.host == usual.mqtt.host);
  CHECK(shown.mqtt.port == usual.mqtt.port);
  CHECK(shown.mqtt.client_id == usual.mqtt.client_id);
  CHECK(shown.mqtt.base == usual.mqtt.base);
  CHECK(shown.mqtt.user == usual.mqtt.user);
  CHECK(shown.mqtt.password_file == usual.mqtt.password_file);
  CHECK(shown.mqtt.tls == usual.mqtt.tls);
  CHECK(shown.mqtt.ca_file == usual.mqtt.ca_file);
  CHECK(shown.mqtt.keep_alive == usual.mqtt.keep_alive);
  CHECK(shown.setup.mappings == usual.setup.mappings);
  const auto& a = shown.setup;
  const auto& b = usual.setup;
  CHECK(a.thresholds == b.thresholds);
  CHECK(a.announce_level == b.announce_level);
  CHECK(a.least_indoor == b.least_indoor);
  CHECK(a.bridge_after == b.bridge_after);
  CHECK(a.screen.air_min_c == b.screen.air_min_c);
  CHECK(a.screen.air_max_c == b.screen.air_max_c);
  CHECK(a.screen.panel_min_c == b.screen.panel_min_c);
  CHECK(a.screen.panel_max_c == b.screen.panel_max_c);
  CHECK(a.screen.air_jump_c_per_min == b.screen.air_jump_c_per_min);
  CHECK(a.screen.rh_jump_pct_per_min == b.screen.rh_jump_pct_per_min);
  CHECK(a.screen.spike_confirmations == b.screen.spike_confirmations);
  CHECK(a.screen.stuck_after == b.screen.stuck_after);
  CHECK(a.screen.skew_limit == b.screen.skew_limit);
  CHECK(a.alerts.dwell == b.alerts.dwell);
  CHECK(a.alerts.silent_after == b.alerts.silent_after);
  CHECK(a.alerts.cold_hysteresis_c == b.alerts.cold_hysteresis_c);
  CHECK(a.alerts.damp_hysteresis_pct == b.alerts.damp_hysteresis_pct);
  CHECK(a.alerts.dew_margin_k == b.alerts.dew_margin_k);
  CHECK(a.alerts.slip_margin == b.alerts.slip_margin);
  CHECK(a.alerts.sprayed_g_m2 == b.alerts.sprayed_g_m2);
  CHECK(shown.quiet.has_value() == usual.quiet.has_value());
  REQUIRE(shown.notify.size() == 3);
  CHECK(shown.notify[0].kind == NotifyKind::webhook);
  CHECK(shown.notify[1].to == std::vector<std::string>{"me@example.org"});
  CHECK(shown.notify[2].command == std::vector<std::string>{"/usr/local/bin/siren", "--on"});
}

// Each key with a number of its own, so that none is read into another's place.
TEST_CASE("every threshold has its key") {
  const auto setup = config_of(std::string(one_bay) +
                               "[milestones]\ngone_wet=0.11\nclear_wet=0.06\npocket_wet=0.21\n"
                               "wrap_excess=0.26\nwrap_bond=0.51\ntrim_excess=0.16\ntrim_bond=0.61\n"
                               "refit_bond=0.62\nleave_bond=0.63\nstrength_bond=0.91\n"
                               "announce_level=0.95\nleast_indoor_h=36\n")
                         .setup;
  CHECK(setup.thresholds == models::Thresholds{0.11, 0.06, 0.21, 0.26, 0.51, 0.16, 0.61, 0.62, 0.63, 0.91});
  CHECK(setup.announce_level == 0.95);
  CHECK(setup.least_indoor == std::chrono::hours{36});
}

TEST_CASE("a share of wet that no film could pass is refused, and one beyond all of it") {
  CHECK(test::joined(problems_of(std::string(one_bay) +
                                 "[milestones]\ngone_wet=0\nclear_wet=1.5\npocket_wet=0.001\n")) ==
        test::joined(
            {"4:10: gone_wet: 0 is outside 0.001 to 1", "5:11: clear_wet: 1.5 is outside 0.001 to 1"}));
}

TEST_CASE("keys of an older file are passed over, with a word on what stands instead") {
  const ScratchFolder folder;
  const auto file = test::write(
      folder, "dryclock.toml",
      std::string(one_bay) + "[milestones]\nrelease_bond=0.8\ndry_below_g_m2=0.1\nwrap_bond=0.4\n");
  const auto config = load_config(file, shipped());
  auto usual = models::Thresholds{};
  usual.wrap_bond = 0.4;
  CHECK(config.setup.thresholds == usual);
  REQUIRE(config.warnings.size() == 2);
  CHECK(config.warnings[0].where == file.string() + ":4:14");
  CHECK(config.warnings[0].what.starts_with("release_bond: passed over"));
  CHECK(config.warnings[0].what.find("leave_bond") != std::string::npos);
  CHECK(config.warnings[1].where == file.string() + ":5:16");
  CHECK(config.warnings[1].what.starts_with("dry_below_g_m2: passed over"));
  CHECK(config.warnings[1].what.find("gone_wet") != std::string::npos);
  CHECK(load_config(shipped() / "dryclock.toml", shipped()).warnings.empty());
}

TEST_CASE("a ballast that buys no time is refused") {
  CHECK(problems_of("[store]\nballast_mib = 0\n").size() == problems_of("[store]\nballast_mib = 4\n").size());
  const auto problems = test::joined(problems_of("[store]\nballast_mib = 3\n"));
  CHECK(problems.find("2:15: ballast_mib: 0, or 4 and more") != std::string::npos);
}

TEST_CASE("what a sensor is and where it hangs is kept for the record") {
  const test::ScratchFolder folder;
  const auto file = test::write(folder, "a.toml",
                                "[[bay]]\nname = \"front\"\n"
                                "[[sensor]]\nname = \"air\"\nbay = \"front\"\ntopic = \"t\"\n"
                                "model = \"RH-9\"\nplace = \"north wall, 1.5 m\"\n"
                                "reads = [{ quantity = \"air-temperature\" }]\n");
  const auto config = load_config(file, shipped());
  REQUIRE(config.setup.sensors.size() == 1);
  CHECK(config.setup.sensors[0].sensor == "air");
  CHECK(config.setup.sensors[0].model == "RH-9");
  CHECK(config.setup.sensors[0].place == "north wall, 1.5 m");
}

TEST_CASE("a time stamping authority is asked over http or https") {
  const auto usual =
      problems_of("[seal]\ntime_stamp_url = \"https://tsa.example/\"\nkeys_folder = \"k\"\n").size();
  CHECK(problems_of("[seal]\n").size() == usual);
  const auto problems = test::joined(problems_of("[seal]\ntime_stamp_url = \"tsa.example\"\n"));
  CHECK(problems.find("time_stamp_url: must start with http:// or https://") != std::string::npos);
}

TEST_CASE("five mistakes give exactly these five problems, by line") {
  const auto problems = problems_of(
      "[mqtt]\n"
      "prot = 1883\n"                                                   // 2: unknown key
      "keep_alive_s = \"long\"\n"                                       // 3: wrong type
      "[[bay]]\n"                                                       // 4
      "name = \"front\"\n"                                              // 5
      "[[sensor]]\n"                                                    // 6
      "name = \"air\"\n"                                                // 7
      "bay = \"frnt\"\n"                                                // 8: no such bay
      "topic = \"bay/#/air\"\n"                                         // 9: bad filter
      "reads = [ { quantity = \"air-temperature\", slope = 5000 } ]\n"  // 10: out of range
  );
  CHECK(test::joined(problems) == test::joined({
                                      "2:1: unknown key \"prot\", did you mean \"port\"?",
                                      "3:16: keep_alive_s: a whole number is expected, not text \"long\"",
                                      "8:7: bay: no [[bay]] is named \"frnt\", did you mean \"front\"?",
                                      "9:9: topic: \"#\" may only be the whole last level",
                                      "10:51: slope: 5000 is outside -1000 to 1000",
                                  }));
}

TEST_CASE("problems of several files come together") {
  const ScratchFolder folder;
  const auto main_file = test::write(folder, "dryclock.toml", "clock = \"sun\"\n[[bay]]\nname = \"front\"\n");
  const auto films = test::write(folder, "films.toml", "[[film]]\nkey = \"x\"\n");
  try {
    (void)load_config(main_file, shipped());
    FAIL("must not load");
  } catch (const ConfigError& error) {
    REQUIRE(error.problems().size() == 3);
    CHECK(error.problems()[0] ==
          Problem{"clock: \"sun\" is none of \"system\", \"messages\"", main_file.string() + ":1:9"});
    CHECK(error.problems()[1] == Problem{"label is missing", films.string() + ":1:1"});
    CHECK(error.problems()[2] ==
          Problem{"layer: at least one layer is needed, the adhesive first", films.string() + ":1:1"});
    CHECK(std::string(error.what()).find("\n" + films.string() + ":1:1: label is missing\n") !=
          std::string::npos);
  }
}

TEST_CASE("names that must differ") {
  const std::string sensor =
      "[[sensor]]\nname=\"s\"\nbay=\"front\"\ntopic=\"t\"\nreads=[{quantity=\"air-speed\"}]\n";
  CHECK(test::joined(problems_of(std::string(one_bay) + one_bay + sensor + sensor)) ==
        test::joined(
            {"4:8: name: a bay \"front\" is there already", "11:6: name: a sensor \"s\" is there already"}));
  CHECK(
      test::joined(problems_of(std::string(one_bay) +
                               "[[notify]]\nname=\"mqtt\"\nkind=\"webhook\"\nurl=\"https://a.example\"\n")) ==
      test::joined({"4:6: name: a channel \"mqtt\" is there already"}));
  CHECK(test::joined(problems_of(std::string(one_bay) +
                                 "[[sensor]]\nname=\"s\"\nbay=\"front\"\ntopic=\"t\"\n"
                                 "reads=[{quantity=\"air-speed\"}, {quantity=\"air-speed\"}]\n")) ==
        test::joined({"7:42: quantity: this sensor reads air-speed already"}));
}

TEST_CASE("a sensor's mistakes") {
  const std::string start = std::string(one_bay) + "[[sensor]]\nname=\"s\"\nbay=\"front\"\n";
  CHECK(test::joined(problems_of(start + "reads=[{quantity=\"air-temperature\"}]\n")) ==
        test::joined({"6:8: topic is missing"}));
  CHECK(test::joined(problems_of(start + "topic=\"t\"\n")) == test::joined({"3:1: reads is missing"}));
  CHECK(test::joined(
            problems_of(start + "topic=\"t\"\nreads=[{quantity=\"relative-humidity\", unit=\"C\"}]\n")) ==
        test::joined({"7:44: unit: \"C\" is no unit of relative-humidity"}));
  CHECK(test::joined(problems_of(
            start + "topic=\"t\"\nreads=[{quantity=\"air-temperature\", pointer=\"temperature\"}]\n")) ==
        test::joined({"7:45: pointer: a JSON pointer starts with \"/\""}));
  CHECK(test::joined(problems_of(start + "topic=\"t\"\nreads=[{quantity=\"air-temperature\", slope=0}]\n")) ==
        test::joined({"7:43: slope: 0 would hide every reading"}));
}

TEST_CASE("a sensor with a topic for each quantity, in Fahrenheit") {
  const auto config =
      config_of(std::string(one_bay) +
                "[[sensor]]\nname=\"s\"\nbay=\"front\"\ntime_pointer=\"/t\"\n"
                "reads=[{quantity=\"air-temperature\", topic=\"a/+/t\", unit=\"F\", offset=-0.4},\n"
                "       {quantity=\"relative-humidity\", topic=\"a/h\", time_pointer=\"\"}]\n");
  REQUIRE(config.setup.mappings.size() == 2);
  CHECK(config.setup.mappings[0] == SensorMapping{"s", "front", "a/+/t", Quantity::air_temperature, "",
                                                  Unit::fahrenheit, 1.0, -0.4, "/t"});
  CHECK(config.setup.mappings[1] ==
        SensorMapping{"s", "front", "a/h", Quantity::relative_humidity, "", Unit::percent, 1.0, 0.0, ""});
}

TEST_CASE("other people's machines reach the page only with a token") {
  CHECK(test::joined(problems_of(std::string(one_bay) + "[http]\naddress=\"0.0.0.0\"\n")) ==
        test::joined(
            {"4:9: address: other machines can reach this address, so token_file must be set as well"}));
  CHECK(problems_of(std::string(one_bay) + "[http]\naddress=\"0.0.0.0\"\ntoken_file=\"token\"\n").empty());
}

TEST_CASE("a token may be asked of this machine too, where there is a file of them") {
  const auto with = [](const std::string& file) {
    return std::string(one_bay) + "[http]\nrequire_token=true\n" + file;
  };
  CHECK(test::joined(problems_of(with(""))) ==
        test::joined({"4:15: require_token: nobody could be let in: token_file must be set as well"}));
  CHECK(config_of(with("token_file=\"/etc/t\"\n")).http.require_token);
}

TEST_CASE("no bay, no zone of that name, no such place") {
  CHECK(test::joined(problems_of("")) == test::joined({"1:1: bay is missing"}));
  const auto problems = problems_of(std::string(one_bay) + "[site]\ntime_zone=\"Europe/Nowhere\"\n");
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].starts_with("4:11: time_zone: "));
}

TEST_CASE("text that is not TOML is one problem with its line") {
  const auto problems = problems_of("[site]\nname = \"open\n");
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].starts_with("2:"));
}

TEST_CASE("a missing file says so") {
  try {
    (void)load_config("nowhere/dryclock.toml", shipped());
    FAIL("must not load");
  } catch (const ConfigError& error) {
    REQUIRE(error.problems().size() == 1);
    CHECK(error.problems()[0] ==
          Problem{"cannot be read: No such file or directory", "nowhere/dryclock.toml"});
  }
}

TEST_CASE("a file that leads nowhere is one problem of its own, and no shipped one in its place") {
  const ScratchFolder folder;
  const auto file = test::write(folder, "dryclock.toml", one_bay);
  const auto films = folder / "films.toml";
  std::filesystem::create_symlink(folder / "gone.toml", films);
  const auto problems_with = [](const std::filesystem::path& settings) -> std::vector<Problem> {
    try {
      (void)load_config(settings, shipped());
      return {};
    } catch (const ConfigError& error) {
      return error.problems();
    }
  };
  CHECK(problems_with(file) ==
        std::vector<Problem>{{"cannot be read: No such file or directory", films.string()}});
  std::filesystem::remove(films);
  const auto itself = folder / "loop.toml";
  std::filesystem::create_symlink(itself, itself);
  CHECK(problems_with(itself) ==
        std::vector<Problem>{{"cannot be read: Too many levels of symbolic links", itself.string()}});
}

TEST_CASE("relative paths start from the file's folder, absolute ones stand") {
  const ScratchFolder folder;
  const auto file =
      test::write(folder, "dryclock.toml",
                  std::string(one_bay) + "[store]\npath=\"data/shop.db\"\n[http]\ntoken_file=\"/etc/t\"\n");
  const auto config = load_config(file, shipped());
  CHECK(config.store.path == folder.path() / "data/shop.db");
  CHECK(config.http.token_file == "/etc/t");
}

TEST_CASE("quiet hours, over midnight or within a day, and what is none") {
  const auto quiet = [](const std::string& text) {
    return config_of(std::string(one_bay) + "[alerts]\nquiet=\"" + text + "\"\n").quiet;
  };
  const auto night = quiet("22:00-06:30");
  REQUIRE(night);
  CHECK(night->from == std::chrono::hours{22});
  CHECK(night->to == std::chrono::minutes{6 * 60 + 30});
  CHECK(quiet("12:15-13:00")->from == std::chrono::minutes{12 * 60 + 15});
  CHECK_FALSE(quiet(""));
  for (const auto* wrong : {"22:00", "22-6", "24:00-06:00", "22:60-06:00", "22:00-22:00", "22:00-06:00-07:00",
                            "2a:00-06:00", "22:00 - 06:00", "-"}) {
    CAPTURE(wrong);
    const auto problems = problems_of(std::string(one_bay) + "[alerts]\nquiet=\"" + wrong + "\"\n");
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].find("quiet: \"" + std::string(wrong) + "\": write two times of the day") !=
          std::string::npos);
  }
}

TEST_CASE("the shop's language, its scale of temperature and its zone, also as older files had them") {
  CHECK(config_of(std::string(one_bay) + "[site]\nlanguage=\"de\"\ntemperature=\"F\"\n").setup.site.manner ==
        Manner{Language::german, TemperatureScale::fahrenheit});
  CHECK(config_of(std::string(one_bay) + "[site]\ndialect=\"us\"\n").setup.site.manner.language ==
        Language::english_us);
  CHECK_FALSE(config_of(one_bay).setup.site.time_zone.empty());  // the machine's
  CHECK(config_of(one_bay).setup.site.manner == Manner{});
}
