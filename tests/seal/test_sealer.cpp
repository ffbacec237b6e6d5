#include <doctest/doctest.h>

#include <atomic>
#include <cstdio>

#include "seal/sealer.hpp"
#include "sealed_shop.hpp"
#include "support/eventually.hpp"

namespace dryclock::seal {
namespace {

TEST_CASE("it seals at the start, when asked, and at the stop") {
  SealedShop shop;
  shop.reading("bay/front", "1", evening);
  std::atomic<int> calls = 0;
  Sealer sealer({.chain = shop.options(), .now = [] { return evening; }},
                {.on_sealed = [&](const Sealed&) { ++calls; }});
  sealer.start();
  CHECK(test::eventually([&] { return calls == 1; }));
  const auto released = shop.reading("bay/front", "2", evening);
  sealer.seal_now("release of 1");
  CHECK(test::eventually([&] { return calls == 2; }));
  CHECK(sealer.last_checkpoint()->seq == released);
  const auto left = shop.reading("bay/front", "3", evening);
  sealer.stop();
  CHECK(sealer.last_checkpoint()->seq == left);
  CHECK(findings(verify(shop.folder(), {}).value()) == "");
  CHECK(parse_about(content(shop.folder() / about_name(2))).value().reason == "release of 1");
}

TEST_CASE("it seals by itself, each interval and when the UTC day ends") {
  SealedShop shop;
  const auto midnight = evening + std::chrono::hours{4} + std::chrono::minutes{5};
  std::atomic<bool> near_midnight = false;
  std::atomic<int> calls = 0;
  Sealer sealer({.chain = shop.options(),
                 .now = [&] { return near_midnight ? midnight - Millis{200} : evening; },
                 .every = Millis{100}},
                {.on_sealed = [&](const Sealed&) { ++calls; }});
  sealer.start();
  shop.reading("bay/front", "1", evening);
  CHECK(test::eventually([&] { return calls == 1; }));
  sealer.stop();

  near_midnight = true;
  Sealer patient({.chain = shop.options(), .now = [&] { return midnight - Millis{200}; }},
                 {.on_sealed = [&](const Sealed&) { ++calls; }});
  patient.start();
  shop.reading("bay/front", "2", midnight - Millis{100});
  CHECK(test::eventually([&] { return calls == 2; }));
}

TEST_CASE("what it cannot do is told, and it goes on trying") {
  SealedShop shop;
  std::atomic<int> problems = 0;
  std::atomic<int> calls = 0;
  Sealer sealer(
      {.chain = shop.options(), .now = [] { return evening; }},
      {.on_sealed = [&](const Sealed&) { ++calls; }, .on_problem = [&](const Problem&) { ++problems; }});
  shop.reading("bay/front", "1", evening);
  sealer.start();
  REQUIRE(test::eventually([&] { return calls == 1; }));
  std::filesystem::remove_all(shop.folder() / "tmp");
  shop.reading("bay/front", "2", evening);
  sealer.seal_now("release");
  CHECK(test::eventually([&] { return problems == 1; }));
  std::filesystem::create_directory(shop.folder() / "tmp");
  sealer.seal_now("release");
  CHECK(test::eventually([&] { return calls == 2; }));
}

TEST_CASE("a seal that cannot be opened is told, and opened as soon as it can be") {
  SealedShop shop;
  const auto row = shop.reading("bay/front", "1", evening);
  // Somebody else's folder for keys: others may enter it.
  std::filesystem::create_directory(shop.keys());
  std::filesystem::permissions(shop.keys(), std::filesystem::perms::all);
  std::atomic<int> problems = 0;
  std::atomic<int> well = 0;
  Sealer sealer({.chain = shop.options(), .now = [] { return evening; }, .retry = Millis{20}},
                {.on_problem = [&](const Problem&) { ++problems; }, .on_well = [&] { ++well; }});
  sealer.start();
  CHECK(test::eventually([&] { return problems >= 2; }));  // it goes on trying
  CHECK(well == 0);
  CHECK(!sealer.last_checkpoint());
  std::filesystem::permissions(shop.keys(), std::filesystem::perms::owner_all);
  CHECK(test::eventually([&] { return well == 1; }));
  sealer.stop();
  CHECK(sealer.last_checkpoint()->seq == row);
}

TEST_CASE("who waits for a row is told once: when it is sealed, and at once where it is already") {
  SealedShop shop;
  shop.reading("bay/front", "1", evening);
  Sealer sealer({.chain = shop.options(), .now = [] { return evening; }}, {});
  sealer.start();
  REQUIRE(test::eventually([&] { return sealer.last_checkpoint().has_value(); }));
  const auto row = shop.reading("bay/front", "2", evening);
  std::atomic<int> calls = 0;
  std::atomic<bool> was_covered = false;
  sealer.when_sealed(row, [&] {
    was_covered = sealer.last_checkpoint()->seq >= row;
    ++calls;
  });
  CHECK(test::eventually([&] { return calls == 1; }));
  CHECK(was_covered);
  CHECK(parse_about(content(shop.folder() / about_name(2))).value().reason == "record");

  int at_once = 0;
  sealer.when_sealed(row, [&] { ++at_once; });
  CHECK(at_once == 1);
  sealer.stop();
  CHECK(calls == 1);
  CHECK(at_once == 1);
  CHECK(sealer.last_checkpoint()->number == 2);  // what was covered asked for nothing
}

TEST_CASE("who waits for a row is told when the try fails, and may ask again") {
  SealedShop shop;
  shop.reading("bay/front", "1", evening);
  Sealer sealer({.chain = shop.options(), .now = [] { return evening; }}, {});
  sealer.start();
  REQUIRE(test::eventually([&] { return sealer.last_checkpoint().has_value(); }));
  std::filesystem::remove_all(shop.folder() / "tmp");
  const auto row = shop.reading("bay/front", "2", evening);
  std::atomic<int> calls = 0;
  sealer.when_sealed(row, [&] { ++calls; });
  REQUIRE(test::eventually([&] { return calls == 1; }));
  CHECK(sealer.last_checkpoint()->seq < row);
  std::filesystem::create_directory(shop.folder() / "tmp");
  sealer.when_sealed(row, [&] { ++calls; });
  CHECK(test::eventually([&] { return calls == 2; }));
  CHECK(sealer.last_checkpoint()->seq == row);
}

TEST_CASE("who comes while a try runs waits for the next one") {
  SealedShop shop;
  shop.reading("bay/front", "1", evening);
  std::atomic<bool> held = true;
  std::atomic<bool> began = false;
  Sealer sealer({.chain = shop.options(), .now = [] { return evening; }},
                {.on_sealed = [&](const Sealed&) {  // the journal has been read by then
                  began = true;
                  CHECK(test::eventually([&] { return !held; }));
                }});
  sealer.start();
  REQUIRE(test::eventually([&] { return began.load(); }));
  const auto row = shop.reading("bay/front", "2", evening);
  std::atomic<Seq> covered = 0;
  sealer.when_sealed(row, [&] { covered = sealer.last_checkpoint()->seq; });
  held = false;
  CHECK(test::eventually([&] { return covered != 0; }));
  CHECK(covered == row);
}

TEST_CASE("nobody waits beyond the stop") {
  SealedShop shop;
  const auto row = shop.reading("bay/front", "1", evening);
  int calls = 0;
  {
    Sealer sealer({.chain = shop.options(), .now = [] { return evening; }}, {});
    sealer.when_sealed(row, [&] { ++calls; });
    CHECK(calls == 0);
    sealer.stop();  // it was never started
    CHECK(calls == 1);
    sealer.when_sealed(row, [&] { ++calls; });
    CHECK(calls == 2);
  }
  Sealer sealer({.chain = shop.options(), .now = [] { return evening; }}, {});
  sealer.start();
  sealer.when_sealed(row + 100, [&] { ++calls; });  // a row that never comes
  sealer.stop();
  CHECK(calls == 3);
  sealer.when_sealed(row + 100, [&] { ++calls; });
  CHECK(calls == 4);
}

TEST_CASE("it knows how much its files take") {
  SealedShop shop;
  shop.reading("bay/front", "1", evening);
  std::int64_t first = 0;
  {
    Sealer sealer({.chain = shop.options(), .now = [] { return evening; }}, {});
    sealer.start();
    CHECK(test::eventually([&] { return sealer.last_checkpoint().has_value(); }));
    first = sealer.bytes();
    shop.reading("bay/front", "2", evening);
    shop.reading("bay/back", "3", evening);
  }
  // As GNU find counts it, in blocks of 512 bytes.
  const auto on_disk = [&] {
    const auto line = "find '" + shop.folder().string() + "' -type f -printf '%b\n'";
    FILE* found = ::popen(line.c_str(), "r");
    REQUIRE(found != nullptr);
    std::int64_t sum = 0;
    for (long blocks = 0; std::fscanf(found, "%ld", &blocks) == 1;) {
      sum += 512 * blocks;
    }
    ::pclose(found);
    return sum;
  };
  CHECK(first > 0);
  Sealer again({.chain = shop.options(), .now = [] { return evening; }}, {});
  again.start();
  CHECK(test::eventually([&] { return again.bytes() == on_disk(); }));
  CHECK(again.bytes() > first);
  const auto before = again.bytes();
  shop.reading("bay/front", "4", evening);
  again.seal_now("test");
  CHECK(test::eventually([&] { return again.bytes() > before && again.bytes() == on_disk(); }));
}

}  // namespace
}  // namespace dryclock::seal
