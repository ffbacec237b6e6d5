#include "wire/announced_json.hpp"

#include <doctest/doctest.h>

#include "altered_row.hpp"

namespace dryclock::wire {
namespace {

const Time announced_at = parse_rfc3339("2026-03-02T22:14:00Z").value();
// What a row looks like, for ever.
const std::string announced_row =
    R"({"vehicle":7,"at":"2026-03-02T22:14:00.000Z","announcements":[)"
    R"({"piece":9,"which":"wrap-ready","word":"ready","probability":0.9375},)"
    R"({"piece":11,"which":"trim-ready","word":"look","probability":0.5},)"
    R"({"piece":0,"which":"may-leave","word":"taken-back","probability":0.25}]})";

Announced three() {
  return {7,
          announced_at,
          {{9, models::Milestone::wrap_ready, Word::ready, 0.9375},
           {11, models::Milestone::trim_ready, Word::look, 0.5},
           {0, models::Milestone::may_leave, Word::taken_back, 0.25}}};
}

// The place of what is wrong where `from` stands as `to`; empty: it was read.
std::string announced_wrong(const std::string& from, const std::string& to) {
  return wrong_where(announced_row, from, to, [](const std::string& row) { return read_announced(7, row); });
}

}  // namespace

TEST_CASE("what was announced is written in one form, and read back") {
  CHECK(to_json(three()) == announced_row);
  const auto back = read_announced(7, announced_row);
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  CHECK(bool{*back == three()});
}

TEST_CASE("what a later program says beside is passed over; nothing may be missing, and nothing is guessed") {
  CHECK(announced_wrong(R"("at":)", R"("by":"x","at":)").empty());
  CHECK(announced_wrong(R"("vehicle":7,)", "") == "/vehicle");
  CHECK(announced_wrong(R"("at":"2026-03-02T22:14:00.000Z",)", "") == "/at");
  CHECK(announced_wrong(R"(,"word":"ready")", "") == "/announcements/0/word");
  CHECK(announced_wrong(R"("which":"wrap-ready",)", "") == "/announcements/0/which");
  CHECK(announced_wrong(R"("piece":11,)", "") == "/announcements/1/piece");
  CHECK(announced_wrong(R"(,"probability":0.5)", "") == "/announcements/1/probability");
  CHECK(announced_wrong("wrap-ready", "dry") == "/announcements/0/which");
  CHECK(announced_wrong(R"("taken-back")", "3") == "/announcements/2/word");
  CHECK(to_string(read_announced(7, "{").error()).find("not JSON") != std::string::npos);
  CHECK(read_announced(7, "[]").error().what.find("object") != std::string::npos);
}

TEST_CASE("what cannot be meant is told with its place") {
  CHECK(read_announced(8, announced_row).error().where == "/vehicle");  // its topic says another one
  CHECK(read_announced(0, announced_row).error().where == "/vehicle");
  CHECK(announced_wrong(R"("piece":9)", R"("piece":-9)") == "/announcements/0/piece");
  CHECK(announced_wrong(R"("piece":9)", R"("piece":0)") == "/announcements/0/which");
  CHECK(announced_wrong("0.25", "1.5") == "/announcements/2/probability");
  CHECK(announced_wrong("0.25", "-0.5") == "/announcements/2/probability");
}

}  // namespace dryclock::wire
