// Time stamps (RFC 3161), against an authority of `openssl ts`.
#include "seal/time_stamp.hpp"

#include <doctest/doctest.h>

#include <atomic>

#include "cli/run_program.hpp"
#include "seal/sealer.hpp"
#include "sealed_shop.hpp"
#include "support/eventually.hpp"
#include "support/process.hpp"
#include "support/stamp_authority.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

std::string said_by(const std::vector<std::string>& command, const fs::path& log, int expected = 0) {
  fs::remove(log);
  CHECK(test::Process(command, log).wait(std::chrono::seconds{60}) == expected);
  return content(log);
}

TEST_CASE("openssl reads the query, and what it answers is taken") {
  const test::StampAuthority authority;
  const test::ScratchFolder folder;
  const std::string list = "0123  segments/x\n";
  const auto query = time_stamp_query(list);
  overwrite(folder / "query", query);
  overwrite(folder / "list", list);
  const auto text = said_by({"openssl", "ts", "-query", "-in", folder / "query", "-text"}, folder / "log");
  CHECK(text.find("Hash Algorithm: sha256") != std::string::npos);
  CHECK(text.find("Certificate required: yes") != std::string::npos);
  CHECK(text.find("Nonce: 0x01") != std::string::npos);
  CHECK(time_stamp_query(list) != query);  // another nonce

  const auto answer = authority.answer(query);
  CHECK(check_granted(query, answer).has_value());
  CHECK(time_of_stamp(list, answer, {}).has_value());
  CHECK(time_of_stamp(list, answer, authority.certificate()).has_value());
  overwrite(folder / "answer", answer);
  CHECK(said_by({"openssl", "ts", "-verify", "-data", folder / "list", "-in", folder / "answer", "-CAfile",
                 authority.certificate()},
                folder / "log")
            .find("Verification: OK") != std::string::npos);

  // Of another question, of other bytes, by nobody that is trusted, or no stamp at all.
  CHECK_FALSE(check_granted(time_stamp_query(list), answer).has_value());
  CHECK_FALSE(time_of_stamp("other", answer, {}).has_value());
  const test::StampAuthority stranger;
  CHECK_FALSE(time_of_stamp(list, answer, stranger.certificate()).has_value());
  CHECK_FALSE(check_granted(query, "no stamp").has_value());
  CHECK_FALSE(time_of_stamp(list, "no stamp", {}).has_value());
}

TEST_CASE("each checkpoint gets its stamp, which goes with every copy and is verified") {
  const test::StampAuthority authority;
  SealedShop shop;
  shop.live(2);  // without stamps
  std::atomic<int> given = 0;
  std::atomic<int> refused = 0;
  std::atomic<bool> reachable = false;
  const auto vehicle_row = shop.reading("bay/front", "9", evening);
  {
    Sealer sealer({.chain = shop.options(),
                   .now = [] { return evening + std::chrono::hours{3}; },
                   .time_stamp = [&](const std::string& query) -> Result<std::string> {
                     return reachable
                                ? Result<std::string>{boost::system::in_place_value, authority.answer(query)}
                                : Result<std::string>{Problem{"no way there", ""}};
                   }},
                  {.on_stamp = [&](const std::optional<Problem>& wrong) { ++(wrong ? refused : given); }});
    sealer.start();
    CHECK(test::eventually([&] { return refused == 1; }));  // sealed all the same
    CHECK(sealer.last_checkpoint()->seq == vehicle_row);
    reachable = true;
    shop.reading("bay/front", "10", evening);
    sealer.seal_now("test");
    CHECK(test::eventually([&] { return given == 1; }));
  }
  const auto number = last_sealed(shop.folder()).value()->number;
  CHECK_FALSE(fs::exists(shop.folder() / stamp_name(number - 1)));
  REQUIRE(fs::exists(shop.folder() / stamp_name(number)));

  auto wanted = first_vehicles_part(shop, vehicle_row);
  const auto copy = shop.scratch() / "copy";
  CHECK(extract(shop.folder(), copy, wanted).value().stamps == 1);
  const auto report =
      verify(copy, {.anchor = {}, .key_sha256 = {}, .stamp_authority = authority.certificate()});
  CHECK(findings(report.value()) == "");
  REQUIRE(report.value().stamps.size() == 1);
  CHECK(report.value().stamps.front().number == number);

  // As VERIFY.txt says it, and as the client does.
  const auto quoted = "'" + copy.string() + "'";
  const auto said = test::run("verify " + quoted + " --authority '" + authority.certificate().string() + "'");
  CHECK(said.code == 0);
  CHECK(test::has(said, "time stamp       of checkpoint " + std::to_string(number)));
  CHECK(test::has(test::run("verify " + quoted), "its authority not checked"));

  fs::copy_file(copy / stamp_name(number), copy / stamp_name(number - 1));
  const auto moved = verify(copy, {});
  CHECK(findings(moved.value()).starts_with(stamp_name(number - 1) + ": the time stamp does not hold"));
}

}  // namespace
}  // namespace dryclock::seal
