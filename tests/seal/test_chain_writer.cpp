#include <doctest/doctest.h>
#include <sqlite3.h>

#include "base/sha256.hpp"
#include "seal/canonical_line.hpp"
#include "seal/signing_key.hpp"
#include "sealed_shop.hpp"
#include "store/reader.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

TEST_CASE("every row is sealed once, as its canonical line") {
  SealedShop shop;
  shop.live(3);
  const auto rows = store::Reader::open(shop.options().database).value().rows(1, 1000).value();
  REQUIRE(!rows.empty());
  for (const auto& row : rows) {
    const auto lines = lines_of(shop.folder(), row.seq);
    REQUIRE(lines.size() == 1);
    CHECK(lines.front() + "\n" == canonical_line(row));
  }
  const auto report = verify(shop.folder(), {}).value();
  CHECK(findings(report) == "");
  CHECK(report.checkpoints == 3);
  CHECK(report.rows == rows.back().seq);
  CHECK(report.last->seq == rows.back().seq);
}

TEST_CASE("nothing new is no checkpoint, and a restart goes on where it was") {
  SealedShop shop;
  shop.live(2);
  auto chain = shop.open();
  const auto before = chain.last();
  REQUIRE(before);
  CHECK(before->number == 2);
  CHECK(before->sha256 == sha256_hex(content(shop.folder() / before->name)));
  CHECK(chain.seal(evening + std::chrono::hours{2}, "hourly").has_value());
  CHECK(chain.last()->number == 2);
  shop.reading("bay/front", "1", evening + std::chrono::hours{2});
  CHECK(chain.seal(evening + std::chrono::hours{2}, "release\nof demo-1").has_value());
  CHECK(chain.last()->number == 3);
  CHECK(parse_about(content(shop.folder() / about_name(3))).value().reason == "release of demo-1");
  CHECK(findings(verify(shop.folder(), {}).value()) == "");
}

TEST_CASE("a checkpoint whose time did not rise says so, and whoever verifies is told") {
  SealedShop shop;
  shop.live(2);
  auto chain = shop.open();
  const auto before = parse_about(content(shop.folder() / about_name(2))).value();
  shop.reading("bay/front", "1", before.at - std::chrono::hours{31});
  CHECK(chain.seal(before.at - std::chrono::hours{31}, "hourly").has_value());
  CHECK(parse_about(content(shop.folder() / about_name(3))).value().reason ==
        "hourly; the clock was set back since the checkpoint before");
  shop.reading("bay/front", "2", before.at);
  CHECK(chain.seal(before.at, "hourly").has_value());
  CHECK(parse_about(content(shop.folder() / about_name(4))).value().reason == "hourly");
  const auto report = verify(shop.folder(), {}).value();
  CHECK(findings(report) == "");
  CHECK(report.set_back == std::vector<std::int64_t>{3});
}

TEST_CASE("each day has its key, and yesterday's is erased") {
  SealedShop shop;
  shop.live(1);
  const auto first = content(shop.keys() / "00000001.pem");
  CHECK(!first.empty());
  auto chain = shop.open();
  for (int day = 1; day <= 3; ++day) {
    const auto at = evening + std::chrono::days{day};
    shop.reading("bay/front", "1", at);
    REQUIRE(chain.seal(at, "hourly").has_value());
    shop.reading("bay/front", "2", at + std::chrono::hours{1});
    REQUIRE(chain.seal(at + std::chrono::hours{1}, "hourly").has_value());
    // Checkpoints 2, 4 and 6 hand over: the keys of 3, 5 and 7.
    CHECK(files_of(shop.keys()) == std::vector<std::string>{padded(2 * day + 1) + ".pem"});
  }
  CHECK(fs::exists(shop.folder() / key_name(3)));
  CHECK(!fs::exists(shop.folder() / key_name(4)));
  CHECK(findings(verify(shop.folder(), {}).value()) == "");
}

TEST_CASE("a key that a kill has left behind, named by no checkpoint, takes nothing over") {
  SealedShop shop;
  shop.live(1);
  const auto left = SigningKey::generate();
  overwrite(shop.folder() / key_name(3), left.public_pem());  // the second checkpoint would have named it
  overwrite(shop.keys() / "00000003.pem", left.private_pem());
  for (int turn = 0; turn < 3; ++turn) {  // on the same day: no hand-over
    shop.reading("bay/front", "1", evening);
    REQUIRE(shop.open().seal(evening, "hourly").has_value());
  }
  CHECK(files_of(shop.keys()) == std::vector<std::string>{"00000001.pem"});
  CHECK(findings(verify(shop.folder(), {}).value()) == "");
}

TEST_CASE("much to be caught up with is several checkpoints") {
  SealedShop shop;
  for (int i = 0; i < 25; ++i) {
    shop.reading("bay/front", "1", evening + Millis{i});
  }
  auto options = shop.options();
  options.most_rows = 10;
  auto chain = ChainWriter::open(options).value();
  REQUIRE(chain.seal(evening, "start").has_value());
  CHECK(chain.last()->number == 3);
  CHECK(chain.last()->seq == 25);
  CHECK(findings(verify(shop.folder(), {}).value()) == "");
}

TEST_CASE("rows that the journal has lost before they were sealed are disclosed") {
  SealedShop shop;
  for (int i = 0; i < 9; ++i) {
    shop.reading("bay/front", "1", evening + Millis{i});
  }
  sqlite3* database = nullptr;
  REQUIRE(sqlite3_open(shop.options().database.c_str(), &database) == SQLITE_OK);
  REQUIRE(sqlite3_exec(database,
                       "DROP TRIGGER journal_keeps_its_rows; DELETE FROM journal WHERE seq IN (1, 4, 5)",
                       nullptr, nullptr, nullptr) == SQLITE_OK);
  sqlite3_close(database);
  REQUIRE(shop.open().seal(evening, "start").has_value());
  const auto text = findings(verify(shop.folder(), {}).value());
  CHECK(text.find("rows 1 to 1 were not in the journal any more") != std::string::npos);
  CHECK(text.find("rows 4 to 5 were not in the journal any more") != std::string::npos);
}

TEST_CASE("it does not go on without the key, with another's key, or over an older journal") {
  SealedShop shop;
  shop.live(1);
  const auto pem = content(shop.keys() / "00000001.pem");

  auto options = shop.options();
  options.keys = shop.scratch() / "elsewhere";
  CHECK(ChainWriter::open(options).error().what.find("private key that follows checkpoint 1 is not here") !=
        std::string::npos);

  overwrite(shop.keys() / "00000001.pem", SigningKey::generate().private_pem());
  CHECK(ChainWriter::open(shop.options()).error().what.find("not the one of this seal") != std::string::npos);
  overwrite(shop.keys() / "00000001.pem", pem);

  const SealedShop young;
  options = shop.options();
  options.database = young.options().database;
  CHECK(ChainWriter::open(options).error().what.find("an older copy?") != std::string::npos);

  overwrite(shop.folder() / about_name(1), "checkpoint 1\n");
  CHECK(ChainWriter::open(shop.options()).error().what.find("has been altered") != std::string::npos);
}

}  // namespace
}  // namespace dryclock::seal
