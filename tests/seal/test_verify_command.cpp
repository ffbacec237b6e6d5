// `dryclock verify`, the built program.
#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>

#include "cli/run_program.hpp"
#include "sealed_shop.hpp"

namespace dryclock::seal {
namespace {

using test::has;
using test::run;

TEST_CASE("the program says what is right, what is wrong, and by its exit code") {
  SealedShop shop;
  shop.live(2);
  const auto last = *last_sealed(shop.folder()).value();
  const auto folder = "'" + shop.folder().string() + "'";

  const auto well = run("verify " + folder);
  CHECK(well.code == 0);
  CHECK(has(well, last.sha256));
  CHECK(has(well, "All that is here is as it was sealed."));
  CHECK(has(well, "only a hash that left the shop can tell"));

  const auto anchored = run("verify " + folder + " --anchor " + last.sha256);
  CHECK(anchored.code == 0);
  CHECK(!has(anchored, "only a hash that left the shop can tell"));

  const std::string other(64, '0');
  const auto cut = run("verify " + folder + " --anchor " + other);
  CHECK(cut.code == 1);
  CHECK(has(cut, "WRONG  checkpoints: the anchored checkpoint is not here"));
  CHECK(run("verify " + folder + " --key " + other).code == 1);
  CHECK(run("verify " + folder + " --anchor short").code == 2);
  CHECK(run("verify " + folder + "/segments").code == 4);

  const auto json = run("verify --json " + folder);
  CHECK(json.code == 0);
  const auto parsed = boost::json::parse(json.out).as_object();
  CHECK(parsed.at("findings").as_array().empty());
  CHECK(parsed.at("last").as_object().at("sha256").as_string() == last.sha256);

  overwrite(shop.folder() / signature_name(1), "no signature");
  const auto altered = run("verify " + folder);
  CHECK(altered.code == 1);
  CHECK(has(altered, "WRONG  checkpoints/00000001.sha256: its signature does not hold"));
  CHECK(has(altered, "1 finding: this is not what was sealed"));
}

}  // namespace
}  // namespace dryclock::seal
