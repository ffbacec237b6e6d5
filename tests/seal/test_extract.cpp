#include <doctest/doctest.h>

#include "base/sha256.hpp"
#include "sealed_shop.hpp"

namespace dryclock::seal {
namespace {

TEST_CASE("a record holds its own rows and the chain, and nothing of others") {
  SealedShop shop;
  shop.live(4);
  const auto last = last_sealed(shop.folder()).value()->seq;
  const auto copy = shop.scratch() / "copy";
  const auto done = extract(shop.folder(), copy, first_vehicles_part(shop, last)).value();
  CHECK(done.segments > 0);
  CHECK(done.withheld > 0);
  CHECK(done.last.number == 4);
  CHECK(done.key_sha256 == sha256_hex(content(copy / "keys/00000001.pem")));

  const auto report = verify(copy, {.anchor = done.last.sha256, .key_sha256 = done.key_sha256}).value();
  CHECK(findings(report) == "");
  CHECK(report.segments == done.segments);
  CHECK(report.withheld == done.withheld);
  CHECK(report.rows == done.rows);

  CHECK(lines_of(copy, shop.first_vehicle()).size() == 1);
  CHECK(lines_of(copy, shop.second_vehicle()).empty());
  for (const auto& name : files_of(copy)) {
    CAPTURE(name);
    CHECK(content(copy / name).find("demo-2") == std::string::npos);
    CHECK(content(copy / name).find("bay/back") == std::string::npos);
    CHECK(name != "salt");
  }
}

TEST_CASE("the same part through the same checkpoint is the same bytes, however much came later") {
  SealedShop shop;
  shop.live(2);
  auto wanted = first_vehicles_part(shop, last_sealed(shop.folder()).value()->seq);
  wanted.through = 2;
  REQUIRE(extract(shop.folder(), shop.scratch() / "one", wanted).has_value());
  shop.reading("bay/front", "1", evening + std::chrono::hours{30});
  REQUIRE(shop.open().seal(evening + std::chrono::hours{30}, "hourly").has_value());
  REQUIRE(extract(shop.folder(), shop.scratch() / "two", wanted).has_value());
  const auto files = files_of(shop.scratch() / "one");
  CHECK(files == files_of(shop.scratch() / "two"));
  for (const auto& name : files) {
    CHECK(content(shop.scratch() / "one" / name) == content(shop.scratch() / "two" / name));
  }
}

TEST_CASE("a copy that ends where a key is handed over has that key, and one that ends before has not") {
  SealedShop shop;
  shop.live(6);  // the fifth checkpoint is the next day's first
  for (const std::int64_t through : {4, 5, 6}) {
    const auto copy = shop.scratch() / std::to_string(through);
    auto wanted = first_vehicles_part(shop, shop.second_vehicle());
    wanted.through = through;
    REQUIRE(extract(shop.folder(), copy, wanted).has_value());
    CHECK(findings(verify(copy, {}).value()) == "");
    CHECK(std::filesystem::exists(copy / key_name(6)) == (through >= 5));
  }
}

TEST_CASE("only the wanted span of a stream is given, without a hole") {
  SealedShop shop;
  shop.live(4);
  // The second hour's first reading of the front bay.
  const Rows second_hour{shop.second_vehicle() + 1, shop.second_vehicle() + 1};
  const auto copy = shop.scratch() / "copy";
  const auto done =
      extract(shop.folder(), copy, {.streams = {topic_stream("bay/front")}, .rows = second_hour}).value();
  CHECK(done.segments == 1);
  CHECK(done.rows == 4);
  CHECK(findings(verify(copy, {}).value()) == "");
}

TEST_CASE("what cannot be extracted") {
  SealedShop shop;
  const auto copy = shop.scratch() / "copy";
  CHECK(!extract(shop.folder(), copy, {}).has_value());  // nothing is sealed
  shop.live(1);
  const auto last = last_sealed(shop.folder()).value()->seq;
  CHECK(extract(shop.folder(), copy, {.streams = {}, .rows = {1, last + 1}})
            .error()
            .what.find("not sealed yet") != std::string::npos);
  CHECK(extract(shop.folder(), shop.scratch(), {.streams = {}, .rows = {1, last}})
            .error()
            .what.find("not empty") != std::string::npos);
}

}  // namespace
}  // namespace dryclock::seal
