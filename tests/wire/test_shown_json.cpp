#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <functional>

#include "wire/shown_json.hpp"

namespace dryclock::wire {
namespace {

namespace json = boost::json;
using models::Milestone;
using std::chrono::minutes;

const Time shown_at = parse_rfc3339("2026-03-02T22:14:00Z").value();

std::optional<ShownMilestone>& of(ShownPiece& piece, Milestone which) {
  return piece.milestones[static_cast<std::size_t>(which)];
}

// Every field has a value.
Shown full_row() {
  ShownPiece piece{9, {}, models::Quantiles{0.3, 1.8, 6.1}, models::Quantiles{0.09, 0.12, 0.18}};
  of(piece, Milestone::wrap_ready) = {
      .probability = 1.0, .announced = shown_at - minutes{75}, .by_word = true};
  of(piece, Milestone::trim_ready) = {.probability = 0.731,
                                      .look = shown_at - minutes{20},
                                      .expected = Spread{shown_at + minutes{10}, shown_at + minutes{55}, {}},
                                      .limiting = models::ZoneKind::edge,
                                      .held_by = "edge"};
  of(piece, Milestone::refit_ready) = {.limiting = models::ZoneKind::field};
  of(piece, Milestone::clear) = {.probability = 0.012,
                                 .expected = Spread{{}, shown_at + minutes{1400}, {}},
                                 .limiting = models::ZoneKind::recess,
                                 .held_by = "recess: \"3\""};
  of(piece, Milestone::liquid_gone) = {.probability = 0.5};
  of(piece, Milestone::may_leave) = {.probability = 0.031};
  ShownPiece other{12, {}, {}, {}};
  of(other, Milestone::trim_ready) = ShownMilestone{};
  const ShownVehicle vehicle{7,
                             ShownMilestone{.probability = 0.012, .expected = Spread{}, .held_by = "bumper"},
                             0.87,
                             {piece, {11, {}, {}, {}}, other}};
  return {ShownWhy::deed,
          shown_at,
          vehicle,
          {{AlertRule::piece_ready, "9:wrap-ready", AlertStep::acknowledged, AlertLevel::news, "It is so."}},
          {{"phone", "dew/7", "no answer"}}};
}

}  // namespace

TEST_CASE("a shown row reads back as it was written") {
  const auto back = read_shown(7, to_json(full_row()));
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  CHECK(bool{*back == full_row()});
  const Shown least{ShownWhy::hourly, shown_at, ShownVehicle{7, {}, {}, {}}, {}, {}};
  CHECK(bool{read_shown(7, to_json(least)).value() == least});
  CHECK(to_json(least) == R"({"at":29541494})");
  const Shown of_the_shop{
      ShownWhy::alert, shown_at, {}, {{AlertRule::dew, "7", AlertStep::restated, {}, "Dew."}}, {}};
  CHECK(bool{read_shown(0, to_json(of_the_shop)).value() == of_the_shop});
}

TEST_CASE("its text is short, counts minutes from its own, and is for ever") {
  ShownPiece piece{9, {}, models::Quantiles{0.3, 1.84, 6.1}, models::Quantiles{0.09, 0.12, 0.18}};
  of(piece, Milestone::wrap_ready) = {.probability = 0.981, .announced = shown_at - minutes{30}};
  of(piece, Milestone::clear) = {.probability = 0.0124,
                                 .expected = Spread{shown_at + minutes{900}, {}, {}},
                                 .limiting = models::ZoneKind::recess};
  const Shown shown{ShownWhy::taken_back, shown_at, ShownVehicle{7, {}, 0.87, {piece}}, {}, {}};
  // 2026-03-02 22:14 UTC is 29541494 minutes after 1970.
  CHECK(to_json(shown) == R"({"why":"taken-back","at":29541494,"hand_over":870,)"
                          R"("pieces":[[9,[981,-30],0,0,[12,[900],"recess"],[3,18,61],[90,120,180]]]})");
}

TEST_CASE("what came to be said later stands behind what was said before") {
  ShownPiece piece{9, {}, {}, {}};
  of(piece, Milestone::wrap_ready) = {
      .probability = 1.0, .announced = shown_at - minutes{30}, .by_word = true};
  of(piece, Milestone::trim_ready) = {.probability = 0.6, .look = shown_at - minutes{5}};
  of(piece, Milestone::liquid_gone) = {.probability = 0.9};
  of(piece, Milestone::may_leave) = {.probability = 0.2};
  CHECK(
      to_json(Shown{ShownWhy::hourly, shown_at, ShownVehicle{7, {}, {}, {piece}}, {}, {}}) ==
      R"({"at":29541494,"pieces":[[9,[1000,-30,null,null,null,1],[600,null,null,null,-5],0,0,0,0,[900],[200]]]})");
}

// As a program wrote it that called a piece dry, and knew neither a look nor the user's word.
TEST_CASE("where a row of before says dry, it is clear") {
  const auto back = read_shown(
      7, R"({"at":29541494,"pieces":[[9,[981,-30],0,0,[12,[900],"recess"],[3,18,61],[90,120,180]]]})");
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  auto piece = back->vehicle->pieces.at(0);
  CHECK(bool{of(piece, Milestone::wrap_ready) ==
             ShownMilestone{.probability = 0.981, .announced = shown_at - minutes{30}}});
  CHECK(
      bool{of(piece, Milestone::clear) == ShownMilestone{.probability = 0.012,
                                                         .expected = Spread{shown_at + minutes{900}, {}, {}},
                                                         .limiting = models::ZoneKind::recess}});
  CHECK_FALSE(of(piece, Milestone::liquid_gone));
  CHECK_FALSE(of(piece, Milestone::may_leave));
  CHECK(bool{piece.water == models::Quantiles{0.3, 1.8, 6.1}});
}

TEST_CASE("what is missing or of another kind is told with its place") {
  const auto wrong = [](std::string_view text) { return read_shown(7, text).error().where; };
  CHECK(to_string(read_shown(7, "{").error()).find("not JSON") != std::string::npos);
  CHECK(to_string(read_shown(7, "[]").error()).find("must be an object") != std::string::npos);
  CHECK(wrong(R"({"why":"deed"})") == "/at");
  CHECK(wrong(R"({"why":"daily","at":1})") == "/why");
  CHECK(wrong(R"({"why":"deed","at":"noon"})") == "/at");
  CHECK(wrong(R"({"why":"deed","at":99999999999999})") == "/at");
  CHECK(wrong(R"({"why":"deed","at":1,"pieces":3})") == "/pieces");
  CHECK(wrong(R"({"why":"deed","at":1,"release":[]})") == "/release/0");
  CHECK(wrong(R"({"why":"deed","at":1,"pieces":[[1],[]]})") == "/pieces/1/0");
  CHECK(wrong(R"({"why":"deed","at":1,"pieces":[[1,0,0,0,0,[1,2]]]})") == "/pieces/0/5");
  CHECK(wrong(R"({"why":"deed","at":1,"pieces":[[1,2]]})") == "/pieces/0/1");
  CHECK(wrong(R"({"why":"deed","at":1,"release":{"p":3}})") == "/release");
  CHECK(wrong(R"({"why":"deed","at":1,"release":[3,"x"]})") == "/release/1");
  CHECK(wrong(R"({"why":"deed","at":1,"release":[3,[4,"x"]]})") == "/release/1/1");
  CHECK(wrong(R"({"why":"deed","at":1,"release":[3,[],"attic"]})") == "/release/2");
  CHECK(wrong(R"({"why":"alert","at":1,"alerts":[["raised","dew"]]})") == "/alerts/0/2");
}

TEST_CASE("every leaf of the text is read: one of another kind, or none at all, is noticed or is seen") {
  const auto whole = json::parse(to_json(full_row()));
  std::size_t leaves = 0;
  const std::function<void(const json::value&, const std::string&)> look = [&](const json::value& value,
                                                                               const std::string& path) {
    if (const auto* object = value.if_object()) {
      for (const auto& [key, member] : *object) {
        look(member, path + "/" + std::string{key});
      }
    } else if (const auto* list = value.if_array()) {
      for (std::size_t i = 0; i < list->size(); ++i) {
        look((*list)[i], path + "/" + std::to_string(i));
      }
    } else {
      if (value.is_null() || (value.is_int64() && value.get_int64() == 0 && path.starts_with("/pieces"))) {
        return;  // a place that is empty, or may be taken for one
      }
      ++leaves;
      auto altered = whole;
      altered.at_pointer(path) = true;  // nothing in it is a truth
      const auto read = read_shown(7, json::serialize(altered));
      CAPTURE(path);
      REQUIRE(!read.has_value());
      CHECK(read.error().where == path);
    }
  };
  look(whole, "");
  CHECK(leaves == 38);  // as many as full_row() gives, counted by hand: 5 of the row, 25 of pieces, 5 of the
                        // alert, 3 of the delivery
}

TEST_CASE("what a later program says beside is passed over") {
  CHECK(read_shown(7, R"({"why":"deed","at":1,"mood":[1],"release":[3,[],null,"",1]})").has_value());
}

}  // namespace dryclock::wire
