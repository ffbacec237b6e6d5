#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <functional>

#include "wire/shown_json.hpp"

namespace dryclock::wire {
namespace {

namespace json = boost::json;
using std::chrono::minutes;

const Time at = parse_rfc3339("2026-03-02T22:14:00Z").value();

// Every field has a value.
Shown full() {
  ShownPiece piece{9, {}, models::Quantiles{0.3, 1.8, 6.1}, models::Quantiles{0.09, 0.12, 0.18}};
  piece.milestones[0] = {1.0, at - minutes{75}, {}, {}, {}};
  piece.milestones[1] = {0.731, {}, {at + minutes{10}, at + minutes{55}, {}}, models::ZoneKind::edge, "edge"};
  piece.milestones[2] = {0.0, {}, {}, models::ZoneKind::field, {}};
  piece.milestones[3] = {0.012, {}, {{}, at + minutes{1400}, {}}, models::ZoneKind::recess, "recess: \"3\""};
  const ShownVehicle vehicle{7, ShownMilestone{0.012, {}, {}, {}, "bumper"}, 0.87, {piece, {11, {}, {}, {}}}};
  return {ShownWhy::deed,
          at,
          vehicle,
          {{AlertRule::piece_ready, "9:wrap-ready", AlertStep::acknowledged, AlertLevel::news, "It is so."}},
          {{"phone", "dew/7", "no answer"}}};
}

}  // namespace

TEST_CASE("a shown row reads back as it was written") {
  const auto back = read_shown(to_json(full()));
  REQUIRE_MESSAGE(back.has_value(), (back ? "" : to_string(back.error())));
  CHECK(bool{*back == full()});
  const Shown least{ShownWhy::hourly, at, ShownVehicle{7, {}, {}, {}}, {}, {}};
  CHECK(bool{read_shown(to_json(least)).value() == least});
}

TEST_CASE("its text is short, counts minutes from its own, and is for ever") {
  ShownPiece piece{9, {}, models::Quantiles{0.3, 1.84, 6.1}, models::Quantiles{0.09, 0.12, 0.18}};
  piece.milestones[3] = {0.0124, {}, {at + minutes{900}, {}, {}}, models::ZoneKind::recess, {}};
  const Shown shown{ShownWhy::taken_back, at, ShownVehicle{7, {}, 0.87, {piece}}, {}, {}};
  // 2026-03-02 22:14 UTC is 29541494 minutes after 1970.
  CHECK(to_json(shown) ==
        R"({"why":"taken-back","at":29541494,"vehicle":{"id":7,"hand_over":870,"pieces":[{"id":9,)"
        R"("dry":[12,null,900,null,null,"recess"],"water":[3,18,61],"bond":[90,120,180]}]}})");
}

TEST_CASE("what is missing or of another kind is told with its place") {
  const auto wrong = [](std::string_view text) { return read_shown(text).error().where; };
  CHECK(to_string(read_shown("{").error()).find("not JSON") != std::string::npos);
  CHECK(to_string(read_shown("[]").error()).find("must be an object") != std::string::npos);
  CHECK(wrong(R"({"at":1})") == "/why");
  CHECK(wrong(R"({"why":"hourly"})") == "/at");
  CHECK(wrong(R"({"why":"daily","at":1})") == "/why");
  CHECK(wrong(R"({"why":"hourly","at":"noon"})") == "/at");
  CHECK(wrong(R"({"why":"hourly","at":99999999999999})") == "/at");
  CHECK(wrong(R"({"why":"hourly","at":1,"vehicle":3})") == "/vehicle");
  CHECK(wrong(R"({"why":"hourly","at":1,"vehicle":{}})") == "/vehicle/id");
  CHECK(wrong(R"({"why":"hourly","at":1,"vehicle":{"id":7,"release":[]}})") == "/vehicle/release/0");
  CHECK(wrong(R"({"why":"hourly","at":1,"vehicle":{"id":7,"pieces":[{"id":1},{}]}})") ==
        "/vehicle/pieces/1/id");
  CHECK(wrong(R"({"why":"hourly","at":1,"vehicle":{"id":7,"pieces":[{"id":1,"water":[1,2]}]}})") ==
        "/vehicle/pieces/0/water");
  CHECK(wrong(R"({"why":"hourly","at":1,"vehicle":{"id":7,"release":{"p":3}}})") == "/vehicle/release");
  CHECK(wrong(R"({"why":"hourly","at":1,"vehicle":{"id":7,"release":[3,null,"x"]}})") ==
        "/vehicle/release/2");
  CHECK(wrong(R"({"why":"alert","at":1,"alerts":[{"rule":"dew","subject":"7","level":"news"}]})") ==
        "/alerts/0/step");
}

TEST_CASE("every leaf of the text is read: one of another kind, or none at all, is noticed or is seen") {
  const auto whole = json::parse(to_json(full()));
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
      if (value.is_null()) {
        return;  // an item that is empty
      }
      ++leaves;
      auto altered = whole;
      altered.at_pointer(path) = true;  // nothing in it is a truth
      const auto read = read_shown(json::serialize(altered));
      CAPTURE(path);
      REQUIRE(!read.has_value());
      CHECK(read.error().where == path);
    }
  };
  look(whole, "");
  CHECK(leaves == 35);  // as many as full() gives
}

TEST_CASE("what a later program says beside is passed over") {
  CHECK(read_shown(R"({"why":"hourly","at":1,"mood":[1],"vehicle":{"id":7,"x":{}}})").has_value());
}

}  // namespace dryclock::wire
