#include <doctest/doctest.h>

#include <stdexcept>

#include "rules/include_table.hpp"
#include "rules/repository.hpp"

namespace dryclock::rules {

TEST_CASE("every include follows an arrow of includes.txt") {
  const auto table = read_include_table(text_of(repository(), "tests/rules/includes.txt"));
  CHECK(joined(wrong_includes(repository(), table)) == "");
}

TEST_CASE("every import of the page follows an arrow of includes.txt") {
  const auto table = read_include_table(text_of(repository(), "tests/rules/includes.txt"));
  CHECK(joined(wrong_imports(repository(), table)) == "");
  const auto found = [&](const std::string& path, const std::string& line) {
    return wrong_imports({{"daemon/page/src/" + path, line + "\n"}}, table).size();
  };
  CHECK(found("data/api.ts", "import { Words } from \"../words/words\";") == 1);
  CHECK(found("parts/piece.tsx", "  const { draw } = await import(\"../screens/board\");") == 1);
  CHECK(found("attic/old.ts", "export const x = 1;") == 1);
  CHECK(found("screens/board.tsx", "import { Words } from \"../words/words\";") == 0);
  CHECK(found("page.tsx", "import { Board } from \"./screens/board\";") == 0);
}

TEST_CASE("planted includes against the table are found") {
  const auto table = read_include_table(text_of(repository(), "tests/rules/includes.txt"));
  const auto found = [&](const std::string& path, const std::string& include) {
    return wrong_includes({{path, "#include " + include + "\n"}}, table).size();
  };
  SUBCASE("between our folders") {
    CHECK(found("daemon/engine/screen.hpp", "\"store/journal.hpp\"") == 1);
    CHECK(found("daemon/store/reader.cpp", "\"app/daemon.hpp\"") == 1);
    CHECK(found("daemon/base/time.hpp", "\"domain/types.hpp\"") == 1);
    CHECK(found("daemon/http/server.cpp", "\"store/writer.hpp\"") == 1);
    CHECK(found("daemon/engine/screen.cpp", "\"screen.hpp\"") == 1);
    CHECK(found("daemon/engine/screen.cpp", "\"support/builders.hpp\"") == 1);
    CHECK(found("daemon/newfolder/thing.cpp", "\"base/time.hpp\"") == 1);
  }
  SUBCASE("into the models") {
    CHECK(found("models/zone.cpp", "\"base/time.hpp\"") == 1);
    CHECK(found("models/zone.cpp", "<thread>") == 1);
    CHECK(found("models/zone.cpp", "<chrono>") == 1);
    CHECK(found("models/zone.cpp", "<boost/math/tools/roots.hpp>") == 1);
    CHECK(found("models/zone.cpp", "<fmt/core.h>") == 1);
    CHECK(found("models/zone.cpp", "<unistd.h>") == 1);
  }
  SUBCASE("of libraries") {
    CHECK(found("daemon/http/server.hpp", "<boost/beast/http.hpp>") == 1);
    CHECK(found("daemon/engine/screen.hpp", "<fmt/core.h>") == 1);
    CHECK(found("daemon/engine/screen.cpp", "<sqlite3.h>") == 1);
    CHECK(found("daemon/mqtt/second.cpp", "<mqtt/async_client.h>") == 1);
    CHECK(found("daemon/engine/screen.cpp", "<unheard/of.hpp>") == 1);
    CHECK(found("daemon/base/ids.hpp", "<unistd.h>") == 1);
  }
}

TEST_CASE("includes along the table are let through") {
  const auto table = read_include_table(text_of(repository(), "tests/rules/includes.txt"));
  const Tree tree{
      {"daemon/engine/screen.cpp", "#include \"engine/screen.hpp\"\n#include \"models/zone.hpp\"\n"},
      {"daemon/main.cpp", "#include \"engine/engine.hpp\"\n#include <csignal>\n"},
      {"daemon/store/journal.cpp", "#include <sqlite3.h>\n#include <unistd.h>\n"},
      {"daemon/page/assets.cpp", "#include \"page.js.inc\"\n"},
      {"daemon/base/log.hpp", "#include <fmt/core.h>\n"}};
  CHECK(joined(wrong_includes(tree, table)) == "");
}

TEST_CASE("every library and every single header of includes.txt is needed by whoever may include it") {
  const auto table = read_include_table(text_of(repository(), "tests/rules/includes.txt"));
  CHECK(joined(unused_arrows(repository(), table)) == "");
}

TEST_CASE("planted arrows that nobody takes are found") {
  const Tree tree{
      {"daemon/http/server.cpp", "#include <boost/beast/http.hpp>\n#include \"models/salts.hpp\"\n"},
      {"daemon/base/log.hpp", "#include <fmt/core.h>\n"}};
  const auto found = [&](std::string_view rows) {
    return joined(unused_arrows(tree, read_include_table(rows)));
  };
  CHECK(found("library boost/beast: http\nfolder http: base models/salts.hpp\nheader base/log.hpp: "
              "fmt/core.h\n") == "");
  CHECK(found("library boost/beast: http app http/server.cpp\n") ==
        "app includes none of boost/beast: take it out of includes.txt\n");
  CHECK(found("library boost/url: http\n") ==
        "http includes none of boost/url: take it out of includes.txt\n");
  CHECK(found("folder http: models/pace.hpp\n") ==
        "http includes none of models/pace.hpp: take it out of includes.txt\n");
  CHECK(found("header base/log.hpp: fmt/format.h\n") ==
        "base/log.hpp includes none of fmt/format.h: take it out of includes.txt\n");
}

TEST_CASE("a line of the table that is not understood is an error") {
  CHECK_THROWS_AS((void)read_include_table("folder engine base"), std::runtime_error);
  CHECK_THROWS_AS((void)read_include_table("arrow engine: base"), std::runtime_error);
}

}  // namespace dryclock::rules
