#include "store/rebuild.hpp"

#include "store/columns.hpp"
#include "store/schema.hpp"
#include "store/sqlite.hpp"

namespace dryclock::store {
namespace {

template <class Answer, class Work>
Result<Answer> with_database(const std::filesystem::path& database, Work work) {
  try {
    auto connection = open_for_writing(database);
    migrate(connection, database, schema_steps());
    Transaction transaction(connection);
    if constexpr (std::is_void_v<Answer>) {
      work(connection);
      transaction.commit();
      return {};
    } else {
      Answer answer = work(connection);
      transaction.commit();
      return answer;
    }
  } catch (const SqlError& error) {
    return Problem{error.what(), database.string()};
  }
}

}  // namespace

Result<void> begin_rebuild(const std::filesystem::path& database, const std::vector<AlertRule>& kept) {
  return with_database<void>(database, [&](Connection& connection) {
    for (const char* table : {"reading", "series", "reject", "air_hour"}) {
      connection.run(std::string{"DELETE FROM "} + table);
    }
    std::string rules = "-1";
    for (const auto rule : kept) {
      rules += ", " + std::to_string(code_of(rule));
    }
    connection.run("DELETE FROM alert WHERE rule NOT IN (" + rules + ")");
    connection.run("UPDATE meta SET value = 0 WHERE name = 'applied_seq'");
    connection.run("INSERT OR REPLACE INTO meta VALUES ('rebuilding', 1)");
  });
}

Result<void> finish_rebuild(const std::filesystem::path& database) {
  return with_database<void>(
      database, [](Connection& connection) { connection.run("DELETE FROM meta WHERE name = 'rebuilding'"); });
}

Result<bool> is_being_rebuilt(const std::filesystem::path& database) {
  return with_database<bool>(database, [](Connection& connection) {
    return connection.integer("SELECT count(*) FROM meta WHERE name = 'rebuilding'") > 0;
  });
}

}  // namespace dryclock::store
