#include "cli/sensor_toml.hpp"

#include <doctest/doctest.h>

#include "config/load_config.hpp"
#include "support/config_files.hpp"

using namespace dryclock;

namespace {

SensorView view(const std::string& name, std::vector<SensorMapping> mappings) {
  SensorView sensor;
  sensor.name = name;
  sensor.bay = mappings.front().bay;
  for (auto& mapping : mappings) {
    mapping.sensor = name;
    sensor.reads.push_back({std::move(mapping), {}});
  }
  return sensor;
}

}  // namespace

TEST_CASE("what is exported, the configuration reads back to the same sensors") {
  auto odd = view("o\"dd \\ name",
                  {{"", "front", "a/\"b\"/+", Quantity::air_temperature, "/t~1x/0", Unit::fahrenheit,
                    1.0416666666666667, -3.25, "/at"},
                   {"", "front", "a/h", Quantity::relative_humidity, "", Unit::fraction, 2.0, 1e-3, ""}});
  odd.model = "two\nlines";
  odd.place = "by the door";
  const auto plain =
      view("plain", {{"", "back", "p/t", Quantity::panel_temperature, "", Unit::kelvin, 1.0, 0.0, ""}});
  const auto text = cli::sensor_toml({odd, plain});
  CAPTURE(text);
  const test::ScratchFolder folder;
  const auto config = load_config(
      test::write(folder, "dryclock.toml", "[[bay]]\nname = \"front\"\n[[bay]]\nname = \"back\"\n" + text),
      test::shipped());
  REQUIRE(config.setup.mappings.size() == 3);
  CHECK(config.setup.mappings[0] == odd.reads[0].mapping);
  CHECK(config.setup.mappings[1] == odd.reads[1].mapping);
  CHECK(config.setup.mappings[2] == plain.reads[0].mapping);
  CHECK(text.find("# place: by the door\n") != std::string::npos);
  CHECK(cli::sensor_toml({}).empty());
}
