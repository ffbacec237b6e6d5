#include <doctest/doctest.h>

#include <array>
#include <fstream>
#include <string>

#include "rows.hpp"
#include "store/schema.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

std::string migrate_and_complain(const std::filesystem::path& path, std::span<const std::string_view> steps) {
  auto connection = open_for_writing(path);
  try {
    migrate(connection, path, steps);
    return {};
  } catch (const SqlError& error) {
    return error.what();
  }
}

std::uint32_t big_endian_at(const std::filesystem::path& path, std::streamoff offset) {
  std::ifstream file(path, std::ios::binary);
  file.seekg(offset);
  std::uint32_t number = 0;
  for (int i = 0; i < 4; ++i) {
    number = number << 8U | static_cast<std::uint32_t>(file.get());
  }
  return number;
}

// SQLite, "Database File Format", section 1.3: user version at offset 60, application ID at 68, write version
// 2 for a write-ahead log at 18.
TEST_CASE("outsiders can tell whose file it is by its header") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  open_writer(path)->stop();
  CHECK(big_endian_at(path, 60) == schema_steps().size());
  CHECK(big_endian_at(path, 68) == 0x64727963U);
  const auto write_version = big_endian_at(path, 16) / 0x100 % 0x100;
  CHECK(write_version == 2);
}

TEST_CASE("the settings that durability rests on are in force") {
  const test::ScratchFolder folder;
  auto connection = open_for_writing(folder / "a.db");
  CHECK(connection.text("PRAGMA journal_mode") == "wal");
  CHECK(connection.integer("PRAGMA synchronous") == 2);  // FULL
  CHECK(connection.integer("PRAGMA foreign_keys") == 1);
  CHECK(connection.integer("PRAGMA trusted_schema") == 0);
}

TEST_CASE("the journal takes no change and no deletion") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  auto writer = open_writer(path);
  REQUIRE(writer->append(message("21.5"), cap).has_value());
  auto connection = open_for_writing(path);
  CHECK_THROWS_AS(connection.run("DELETE FROM journal"), SqlError);
  CHECK_THROWS_AS(connection.run("UPDATE journal SET payload = x'00'"), SqlError);
}

TEST_CASE("a step keeps a copy of what it found") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  const std::array<std::string_view, 2> steps{"CREATE TABLE a (x); INSERT INTO a VALUES (7)",
                                              "ALTER TABLE a ADD COLUMN y"};
  REQUIRE(migrate_and_complain(path, std::span(steps).first(1)).empty());
  REQUIRE_FALSE(std::filesystem::exists(path.string() + ".version-0"));  // there was nothing to copy

  REQUIRE(migrate_and_complain(path, steps).empty());
  CHECK(Connection(path, Connection::Access::read_only).integer("PRAGMA user_version") == 2);
  Connection copy(path.string() + ".version-1", Connection::Access::read_only);
  CHECK(copy.integer("PRAGMA user_version") == 1);
  CHECK(copy.integer("SELECT x FROM a") == 7);
}

TEST_CASE("a step that fails leaves the version before it") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  const std::array<std::string_view, 2> steps{"CREATE TABLE a (x)",
                                              "CREATE TABLE b (x); INSERT INTO c VALUES (1)"};
  CHECK(migrate_and_complain(path, steps).find("no such table") != std::string::npos);
  Connection connection(path, Connection::Access::read_only);
  CHECK(connection.integer("PRAGMA user_version") == 1);
  CHECK(connection.integer("SELECT count(*) FROM sqlite_schema WHERE name = 'b'") == 0);
}

TEST_CASE("what alerts said before facts were kept stays as it was said") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  REQUIRE(migrate_and_complain(path, schema_steps().first(4)).empty());
  const std::string text = R"(front is at 9.4 C; \"it\" holds since 'dawn'.)";
  {
    Connection connection(path, Connection::Access::read_write);
    Statement insert(
        connection,
        "INSERT INTO alert VALUES ('bay-cold/front', 1000, 0, 'front', 1, NULL, NULL, ?1, 'Heat.')");
    insert.with(text).run();
  }
  REQUIRE(migrate_and_complain(path, schema_steps()).empty());
  const auto alerts = Reader::open(path).value().alerts_raised(Time{}, Time{} + Millis{5000}).value();
  REQUIRE(alerts.size() == 1);
  CHECK(alerts[0].what.words == text);
  CHECK(bool{alerts[0].what == Fact{"alerts.as-told", {say::text("text", text)}}});
  CHECK(alerts[0].advice.words == "Heat.");
}

// The rows that a journal holds stay as they are; from then on it takes what is announced, and nothing
// beyond.
TEST_CASE("a journal of before announcements were rows takes them after the step") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  REQUIRE(migrate_and_complain(path, schema_steps().first(5)).empty());
  const auto row_of = [](int kind) {
    return "INSERT INTO journal (kind, received_ms, topic, payload, qos, flags, boottime_ms, session) "
           "VALUES (" +
           std::to_string(kind) + ", 1000, 'vehicle/7', x'7b7d', 0, 0, 0, 1)";
  };
  constexpr int shown = 6, announced = 8;
  {
    Connection before(path, Connection::Access::read_write);
    before.run("INSERT INTO session VALUES (1, 'boot', 0, '1', 'sure')");
    before.run(row_of(shown));
    CHECK_THROWS_AS(before.run(row_of(announced)), SqlError);
  }
  REQUIRE(migrate_and_complain(path, schema_steps().first(6)).empty());
  Connection after(path, Connection::Access::read_write);
  after.run(row_of(announced));
  CHECK_THROWS_AS(after.run(row_of(announced + 1)), SqlError);
  CHECK(after.integer("SELECT count(*) FROM journal WHERE topic = 'vehicle/7'") == 2);
  CHECK(after.text("PRAGMA integrity_check") == "ok");
  CHECK(static_cast<int>(RowKind::announced) == announced);
}

TEST_CASE("a journal takes what a vehicle taught after the step that allows it") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  REQUIRE(migrate_and_complain(path, schema_steps().first(6)).empty());
  const std::string row =
      "INSERT INTO journal (kind, received_ms, topic, payload, qos, flags, boottime_ms, session) "
      "VALUES (9, 1000, 'vehicle/7', x'7b7d', 0, 0, 0, 1)";
  {
    Connection before(path, Connection::Access::read_write);
    before.run("INSERT INTO session VALUES (1, 'boot', 0, '1', 'sure')");
    CHECK_THROWS_AS(before.run(row), SqlError);
  }
  REQUIRE(migrate_and_complain(path, schema_steps()).empty());
  Connection after(path, Connection::Access::read_write);
  after.run(row);
  CHECK(after.text("PRAGMA integrity_check") == "ok");
  CHECK(static_cast<int>(RowKind::learnt) == 9);
}

TEST_CASE("the database of a newer program is refused, and not touched") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  open_writer(path)->stop();
  Connection(path, Connection::Access::read_write).run("PRAGMA user_version = 999");
  const auto writer = Writer::open({.path = path}, {}, {});
  REQUIRE_FALSE(writer.has_value());
  CHECK(writer.error().what.find("newer dryclock") != std::string::npos);
  CHECK(writer.error().what.find("999") != std::string::npos);
  CHECK_FALSE(Reader::open(path).has_value());
  CHECK(Connection(path, Connection::Access::read_only).integer("PRAGMA user_version") == 999);
}

TEST_CASE("somebody else's database is refused") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  Connection(path, Connection::Access::read_write).run("CREATE TABLE theirs (x)");
  const auto writer = Writer::open({.path = path}, {}, {});
  REQUIRE_FALSE(writer.has_value());
  CHECK(writer.error().what == "this is not a dryclock database");
  CHECK_FALSE(Reader::open(path).has_value());
}

TEST_CASE("a file that is no database is refused with a word") {
  const test::ScratchFolder folder;
  const auto path = folder / "a.db";
  std::ofstream(path) << std::string(8192, 'x');
  const auto writer = Writer::open({.path = path}, {}, {});
  REQUIRE_FALSE(writer.has_value());
  CHECK(writer.error().what.find("not a database") != std::string::npos);
  CHECK(writer.error().where == path.string());
}

}  // namespace
}  // namespace dryclock::store
