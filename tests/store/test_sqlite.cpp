#include <doctest/doctest.h>

#include "store/sqlite.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::store {
namespace {

struct Table {
  test::ScratchFolder folder;
  Connection connection{folder / "a.db", Connection::Access::read_write};

  Table() { connection.run("CREATE TABLE t (i INTEGER, r REAL, s TEXT, b BLOB) STRICT"); }
};

TEST_CASE("values come back as they were bound") {
  Table table;
  const std::string bytes("\0\xff\x01", 3);
  Statement(table.connection, "INSERT INTO t VALUES (?1, ?2, ?3, ?4)")
      .with(std::int64_t{-5}, 0.1,
            std::string{"12 \xC2\xB0"
                        "C"},
            Blob{bytes})
      .run();
  Statement read(table.connection, "SELECT i, r, s, b FROM t");
  REQUIRE(read.step());
  CHECK(read.integer(0) == -5);
  CHECK(read.real(1) == 0.1);
  CHECK(read.text(2) ==
        "12 \xC2\xB0"
        "C");
  CHECK(read.text(3) == bytes);
  CHECK_FALSE(read.step());
}

TEST_CASE("absent and empty are two things") {
  Table table;
  Statement add(table.connection, "INSERT INTO t (i, s, b) VALUES (?1, ?2, ?3)");
  add.with(std::optional<std::int64_t>{}, std::string_view{}, Blob{}).run();
  Statement read(table.connection, "SELECT i, s, b FROM t");
  REQUIRE(read.step());
  CHECK(read.is_null(0));
  CHECK_FALSE(read.is_null(1));
  CHECK_FALSE(read.is_null(2));
  CHECK(read.text(1).empty());
}

TEST_CASE("a transaction that is not committed leaves nothing") {
  Table table;
  {
    const Transaction transaction(table.connection);
    table.connection.run("INSERT INTO t (i) VALUES (1)");
    CHECK(table.connection.in_transaction());
  }
  CHECK(table.connection.integer("SELECT count(*) FROM t") == 0);
}

TEST_CASE("an error says whose fault it is") {
  Table table;
  try {
    table.connection.run("INSERT INTO t (i) VALUES ('word')");
    FAIL("a STRICT table took text for an integer");
  } catch (const SqlError& error) {
    CHECK(error.kind() == SqlError::Kind::data);
  }
  try {
    table.connection.run("SELECT * FROM nowhere");
    FAIL("there is no such table");
  } catch (const SqlError& error) {
    CHECK(error.kind() == SqlError::Kind::other);
    CHECK(std::string{error.what()}.find("nowhere") != std::string::npos);
  }
}

}  // namespace
}  // namespace dryclock::store
