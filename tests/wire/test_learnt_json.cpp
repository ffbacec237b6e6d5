#include "wire/learnt_json.hpp"

#include <doctest/doctest.h>

#include "altered_row.hpp"

namespace dryclock::wire {
namespace {

const Time learnt_at = parse_rfc3339("2026-03-04T17:02:00Z").value();
const Time looked = parse_rfc3339("2026-03-02T22:14:00Z").value();
// What a row looks like, for ever.
const std::string learnt_row =
    R"({"vehicle":7,"at":"2026-03-04T17:02:00.000Z","release":61,"after":63,"pieces":[)"
    R"({"piece":9,"film":"baseline","measurement":5,"panel":"bonnet","zones":[)"
    R"({"kind":"field","usual_g_m2":1,"margin":{"width_m":0,"openness":0.125,"opened":1},"seen":[]},)"
    R"({"kind":"edge","usual_g_m2":3.5,)"
    R"("margin":{"width_m":0.005,"openness":0.125,"opened":1,"opened_at_m2":0.0625},"seen":[)"
    R"({"sign":"clear","seconds":32040,"drunk_g_m2":[8,7,6,5,4,3,2,1],"front_squared_m2":0.03125,)"
    R"("at":"2026-03-02T22:14:00.000Z","event":31}]}]}]})";

Learnt one() {
  const models::Seen seen{models::Sign::clear, 32040.0, {8, 7, 6, 5, 4, 3, 2, 1}, 0.03125};
  const LearntZone field{models::ZoneKind::field, 1.0, {0.0, 0.125, 1.0, {}}, {}};
  const LearntZone edge{models::ZoneKind::edge, 3.5, {0.005, 0.125, 1.0, 0.0625}, {{seen, looked, 31}}};
  return {7, learnt_at, 61, 63, {{9, "baseline", 5, "bonnet", {field, edge}}}};
}

// The place of what is wrong where `from` stands as `to`; empty: it was read.
std::string learnt_wrong(const std::string& from, const std::string& to) {
  return wrong_where(learnt_row, from, to, [](const std::string& row) { return read_learnt(7, row); });
}

}  // namespace

TEST_CASE("what was learnt is written in one form, and read back") {
  CHECK(
      to_json(one()).starts_with(R"({"vehicle":7,"at":"2026-03-04T17:02:00.000Z","release":61,"after":63)"));
  const auto back = read_learnt(7, learnt_row);
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  CHECK(bool{*back == one()});
  const auto again = read_learnt(7, to_json(one()));
  REQUIRE_MESSAGE(again.has_value(), (again ? "" : to_string(again.error())));
  CHECK(bool{*again == one()});
}

TEST_CASE("what a later program says beside is passed over; nothing that counts may be missing") {
  CHECK(learnt_wrong(R"("release":61)", R"("by":"x","release":61)").empty());
  CHECK(learnt_wrong(R"(,"opened_at_m2":0.0625)", "").empty());
  CHECK(learnt_wrong(R"("release":61,)", "") == "/release");
  CHECK(learnt_wrong(R"("film":"baseline",)", "") == "/pieces/0/film");
  CHECK(learnt_wrong(R"(,"event":31)", "") == "/pieces/0/zones/1/seen/0/event");
  CHECK(learnt_wrong("[8,7,6,5,4,3,2,1]", "[8,7]") == "/pieces/0/zones/1/seen/0/drunk_g_m2");
  CHECK(learnt_wrong(R"("sign":"clear")", R"("sign":"damp")") == "/pieces/0/zones/1/seen/0/sign");
}

TEST_CASE("what no program can have meant is told with its place") {
  CHECK(read_learnt(8, learnt_row).error().where == "/vehicle");  // its topic says another one
  CHECK(read_learnt(0, learnt_row).error().where == "/vehicle");
  CHECK(learnt_wrong(R"("usual_g_m2":3.5)", R"("usual_g_m2":0)") == "/pieces/0/zones/1");
  CHECK(learnt_wrong(R"("seconds":32040)", R"("seconds":-1)") == "/pieces/0/zones/1");
  CHECK(learnt_wrong(R"("width_m":0.005)", R"("width_m":-0.005)") == "/pieces/0/zones/1");
}

}  // namespace dryclock::wire
