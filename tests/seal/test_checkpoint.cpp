#include <doctest/doctest.h>

#include "base/sha256.hpp"
#include "seal/checkpoint.hpp"
#include "sealed_shop.hpp"

namespace dryclock::seal {
namespace {

TEST_CASE("names") {
  CHECK(list_name(12) == "checkpoints/00000012.sha256");
  CHECK(segment_name(evening, "0123456789abcdef", 12) ==
        "segments/2026-03-01/0123456789abcdef.00000012.ndjson");
  CHECK(stream_of_segment("segments/2026-03-01/0123456789abcdef.00000012.ndjson") == "0123456789abcdef");
  CHECK(stream_of_segment("keys/00000001.pem").empty());
  CHECK(number_of_list("00000012.sha256") == 12);
  CHECK(!number_of_list("00000012.sha256.sig"));
  CHECK(!number_of_list("00000012.about"));
}

TEST_CASE("a list comes back, and nothing else does") {
  const List list{{sha256_hex("a"), "checkpoints/00000001.sha256"}, {sha256_hex("b"), "segments/x"}};
  CHECK(parse_list(to_text(list)).value() == list);
  CHECK(find_line(list, "segments/x")->sha256 == sha256_hex("b"));
  CHECK(find_line(list, "segments/y") == nullptr);
  auto cut = to_text(list);
  cut.pop_back();
  CHECK(!parse_list(cut).has_value());
  CHECK(!parse_list("").has_value());
  CHECK(!parse_list("\n").has_value());
  CHECK(!parse_list(sha256_hex("a") + " *segments/x\n").has_value());
  CHECK(!parse_list(sha256_hex("a") + "  /etc/passwd\n").has_value());
  CHECK(!parse_list(sha256_hex("a") + "  segments/../../x\n").has_value());
}

TEST_CASE("what is about a checkpoint comes back, and nothing else does") {
  const About about{.number = 3,
                    .at = evening,
                    .reason = "release of 7",
                    .rows = {10, 20},
                    .segments = {{"segments/a", {10, 19}, 8}, {"segments/b", {12, 20}, 2}},
                    .missing = {{15, 15}}};
  CHECK(parse_about(to_text(about)).value() == about);
  for (const char* bad : {"", "checkpoint x\n", "nonsense 1 2\n", "checkpoint 3\nat yesterday\n"}) {
    CAPTURE(bad);
    CHECK(!parse_about(bad).has_value());
  }
  CHECK(!parse_about(to_text(about) + "rows 1 2\n").has_value());
  for (const Rows rows : {Rows{-5, 20}, Rows{1, 9'223'372'036'854'775'807}}) {  // no sum could hold these
    auto beyond = about;
    beyond.rows = rows;
    CHECK(!parse_about(to_text(beyond)).has_value());
    beyond = about;
    beyond.missing = {rows};
    CHECK(!parse_about(to_text(beyond)).has_value());
  }
}

}  // namespace
}  // namespace dryclock::seal
