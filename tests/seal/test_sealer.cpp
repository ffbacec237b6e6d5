#include <doctest/doctest.h>

#include <atomic>

#include "seal/sealer.hpp"
#include "sealed_shop.hpp"
#include "support/eventually.hpp"

namespace dryclock::seal {
namespace {

TEST_CASE("it seals at the start, when asked, and at the stop") {
  SealedShop shop;
  shop.reading("bay/front", "1", evening);
  std::atomic<int> told_of = 0;
  Sealer sealer({.chain = shop.options(), .now = [] { return evening; }},
                {.on_sealed = [&](const Sealed&) { ++told_of; }, .on_problem = {}});
  REQUIRE(sealer.start().has_value());
  CHECK(test::eventually([&] { return told_of == 1; }));
  const auto released = shop.reading("bay/front", "2", evening);
  sealer.seal_now("release of 1");
  CHECK(test::eventually([&] { return told_of == 2; }));
  CHECK(sealer.last_checkpoint()->seq == released);
  const auto left = shop.reading("bay/front", "3", evening);
  sealer.stop();
  CHECK(sealer.last_checkpoint()->seq == left);
  CHECK(told(verify(shop.folder(), {}).value()) == "");
  CHECK(parse_about(content(shop.folder() / about_name(2))).value().reason == "release of 1");
}

TEST_CASE("it seals by itself, each interval and when the UTC day ends") {
  SealedShop shop;
  const auto midnight = evening + std::chrono::hours{4} + std::chrono::minutes{5};
  std::atomic<bool> near_midnight = false;
  std::atomic<int> told_of = 0;
  Sealer sealer({.chain = shop.options(),
                 .now = [&] { return near_midnight ? midnight - Millis{200} : evening; },
                 .every = Millis{100}},
                {.on_sealed = [&](const Sealed&) { ++told_of; }, .on_problem = {}});
  REQUIRE(sealer.start().has_value());
  shop.reading("bay/front", "1", evening);
  CHECK(test::eventually([&] { return told_of == 1; }));
  sealer.stop();

  near_midnight = true;
  Sealer patient({.chain = shop.options(), .now = [&] { return midnight - Millis{200}; }},
                 {.on_sealed = [&](const Sealed&) { ++told_of; }, .on_problem = {}});
  REQUIRE(patient.start().has_value());
  shop.reading("bay/front", "2", midnight - Millis{100});
  CHECK(test::eventually([&] { return told_of == 2; }));
}

TEST_CASE("what it cannot do is told, and it goes on trying") {
  SealedShop shop;
  std::atomic<int> problems = 0;
  std::atomic<int> told_of = 0;
  Sealer sealer(
      {.chain = shop.options(), .now = [] { return evening; }},
      {.on_sealed = [&](const Sealed&) { ++told_of; }, .on_problem = [&](const Problem&) { ++problems; }});
  REQUIRE(sealer.start().has_value());
  std::filesystem::remove_all(shop.folder() / "tmp");
  shop.reading("bay/front", "1", evening);
  sealer.seal_now("release");
  CHECK(test::eventually([&] { return problems == 1; }));
  std::filesystem::create_directory(shop.folder() / "tmp");
  sealer.seal_now("release");
  CHECK(test::eventually([&] { return told_of == 1; }));
}

TEST_CASE("no database, no seal") {
  const test::ScratchFolder scratch;
  Sealer sealer({.chain = {.database = scratch / "none.db",
                           .folder = scratch / "seal",
                           .keys = scratch / "keys",
                           .read_event = read_event},
                 .now = [] { return evening; }},
                {});
  CHECK(!sealer.start().has_value());
}

}  // namespace
}  // namespace dryclock::seal
