// Plates and names: kept beside the journal, and gone from every file of the database once erased.
#include <doctest/doctest.h>

#include <fmt/core.h>

#include <fstream>
#include <sstream>

#include "rows.hpp"
#include "support/eventually.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

std::string plate_of(int number) {
  return fmt::format("DEMO-{:04}-PLATE", number);
}
std::string customer_of(int number) {
  return fmt::format("Invented Customer Number {:04}, a name long enough to fill pages", number);
}

Entry arrival(int number) {
  auto entry = event(fmt::format(R"({{"what":"vehicle-in","reference":"v{}"}})", number), {});
  entry.personal = {{"plate", std::string(32, 'p'), plate_of(number)},
                    {"customer", std::string(32, 'c'), customer_of(number)}};
  return entry;
}

Entry forgetting(VehicleId vehicle) {
  auto entry = event(fmt::format(R"({{"what":"forgotten","vehicle":{}}})", vehicle), {});
  entry.forget = vehicle;
  return entry;
}

// Files of the folder whose bytes hold the text.
std::vector<std::string> holding(const std::filesystem::path& folder, const std::string& text) {
  std::vector<std::string> found;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    std::ostringstream bytes;
    bytes << std::ifstream(entry.path(), std::ios::binary).rdbuf();
    if (bytes.str().find(text) != std::string::npos) {
      found.push_back(entry.path().filename().string());
    }
  }
  return found;
}

TEST_CASE("what tells who a customer is lies outside the journal") {
  const test::ScratchFolder folder;
  const auto writer = open_writer(folder / "a.db");
  const auto seq = writer->append(arrival(7), cap).value().seq;
  const auto reader = open_reader(folder / "a.db");
  const auto kept = reader.personal(seq).value();
  REQUIRE(kept.size() == 2);
  CHECK(kept[0] == PersonalText{"plate", std::string(32, 'p'), plate_of(7)});
  CHECK(kept[1] == PersonalText{"customer", std::string(32, 'c'), customer_of(7)});
  CHECK(row_of(reader, seq).message.payload.find("PLATE") == std::string::npos);
  CHECK(reader.personal(seq + 1).value().empty());
}

TEST_CASE("a sender's second try keeps nothing twice, and erases nothing twice") {
  const test::ScratchFolder folder;
  const auto writer = open_writer(folder / "a.db");
  auto entry = arrival(7);
  entry.key = "k";
  const auto seq = writer->append(entry, cap).value().seq;
  const auto again = writer->append(entry, cap).value();
  CHECK(again.repeated);
  CHECK(again.seq == seq);
  CHECK(rows_in(folder / "a.db", "personal") == 2);
}

TEST_CASE("erased is gone from the database's files, and the others stay") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  constexpr int vehicles = 300;  // several pages, rebuilt again and again as they fill
  std::vector<Seq> seqs;
  for (int i = 0; i < vehicles; ++i) {
    seqs.push_back(writer->append(arrival(i), cap).value().seq);
    if (i == vehicles / 2) {
      writer->tidy();  // some of them are in the file, some still in the log
    }
  }
  const auto reader = open_reader(folder / "a.db");
  for (const int gone : {0, 1, 77, 150, 151, vehicles - 1}) {
    REQUIRE_FALSE(holding(folder.path(), customer_of(gone)).empty());
    REQUIRE(writer->append(forgetting(seqs[static_cast<std::size_t>(gone)]), cap).has_value());
    CHECK(reader.personal(seqs[static_cast<std::size_t>(gone)]).value().empty());
    // The writer answers when it is durable, and clears its log right after.
    CHECK(test::eventually([&] {
      return holding(folder.path(), customer_of(gone)).empty() &&
             holding(folder.path(), plate_of(gone)).empty();
    }));
  }
  CHECK(reader.personal(seqs[76]).value().at(1).text == customer_of(76));
  CHECK(rows_in(folder / "a.db", "personal") == 2 * (vehicles - 6));
  writer->stop();
  writer.reset();
  CHECK(holding(folder.path(), customer_of(150)).empty());
  CHECK(open_reader(folder / "a.db").personal(seqs[152]).value().at(0).text == plate_of(152));
}

TEST_CASE("erased is gone from the copy that an upgrade left, too, and the others stay there") {
  const test::ScratchFolder folder;
  auto writer = open_writer(folder / "a.db");
  const auto gone = writer->append(arrival(7), cap).value().seq;
  const auto stays = writer->append(arrival(8), cap).value().seq;
  writer->stop();
  writer.reset();
  const auto copy = folder / "a.db.version-4";
  std::filesystem::copy_file(folder / "a.db", copy);
  writer = open_writer(folder / "a.db");
  REQUIRE(writer->append(forgetting(gone), cap).has_value());
  CHECK(test::eventually([&] { return holding(folder.path(), plate_of(7)).empty(); }));
  CHECK(holding(folder.path(), customer_of(7)).empty());
  CHECK(Connection(copy, Connection::Access::read_only).integer("SELECT min(vehicle) FROM personal") ==
        stays);

  std::ofstream(copy, std::ios::trunc)
      << "no database, and longer than a page's header so that it is looked at";
  CHECK_FALSE(writer->append(forgetting(stays), cap).has_value());
  CHECK(open_reader(folder / "a.db").personal(stays).value().size() ==
        2);  // nobody was told that it is erased
}

TEST_CASE("a reader in the way delays the clearing of the log, and the next row makes up for it") {
  const test::ScratchFolder folder;
  const auto writer = open_writer(folder / "a.db");
  const auto seq = writer->append(arrival(7), cap).value().seq;
  {
    Connection other(folder / "a.db", Connection::Access::read_only);
    Statement open_snapshot(other, "SELECT seq FROM journal");
    REQUIRE(open_snapshot.step());
    REQUIRE(writer->append(forgetting(seq), cap).has_value());
    CHECK_FALSE(holding(folder.path(), plate_of(7)).empty());
  }
  REQUIRE(writer->append(message("21.5"), cap).has_value());
  CHECK(test::eventually([&] { return holding(folder.path(), plate_of(7)).empty(); }));
}

}  // namespace
}  // namespace dryclock::store
