#include "cli/sensor_toml.hpp"

#include <doctest/doctest.h>

#include "config/load_config.hpp"
#include "support/config_files.hpp"

using namespace dryclock;

namespace {

SensorView view(const std::string& name, const std::string& bay, const std::vector<SensorRead>& reads) {
  SensorView sensor;
  sensor.name = name;
  sensor.bay = bay;
  for (const auto& read : reads) {
    sensor.reads.emplace_back().read = read;
  }
  return sensor;
}

// The configuration's way to say the same.
SensorMapping mapping(const SensorView& sensor, std::size_t i) {
  const auto& read = sensor.reads[i].read;
  return {sensor.name, sensor.bay, read.topic,  read.quantity,    read.pointer,
          read.unit,   read.slope, read.offset, read.time_pointer};
}

}  // namespace

TEST_CASE("what is exported, the configuration reads back to the same sensors") {
  auto odd = view("o\"dd \\ name", "front",
                  {{"a/\"b\"/+", "/t~1x/0", Quantity::air_temperature, Unit::fahrenheit, 1.0416666666666667,
                    -3.25, "/at"},
                   {"a/h", "", Quantity::relative_humidity, Unit::fraction, 2.0, 1e-3, ""}});
  odd.model = "two\nlines";
  odd.place = "by the door";
  const auto plain =
      view("plain", "back", {{"p/t", "", Quantity::panel_temperature, Unit::kelvin, 1.0, 0.0, ""}});
  const auto text = cli::sensor_toml({odd, plain});
  CAPTURE(text);
  const test::ScratchFolder folder;
  const auto config = load_config(
      test::write(folder, "dryclock.toml", "[[bay]]\nname = \"front\"\n[[bay]]\nname = \"back\"\n" + text),
      test::shipped());
  REQUIRE(config.setup.mappings.size() == 3);
  CHECK(config.setup.mappings[0] == mapping(odd, 0));
  CHECK(config.setup.mappings[1] == mapping(odd, 1));
  CHECK(config.setup.mappings[2] == mapping(plain, 0));
  REQUIRE(config.setup.sensors.size() == 1);
  CHECK(config.setup.sensors[0].sensor == odd.name);
  CHECK(config.setup.sensors[0].model == odd.model);
  CHECK(config.setup.sensors[0].place == odd.place);
  CHECK(cli::sensor_toml({}).empty());
}
