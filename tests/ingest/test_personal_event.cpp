#include "ingest/personal_event.hpp"

#include <doctest/doctest.h>

#include "ingest/event_json.hpp"

namespace dryclock::ingest {
namespace {

TEST_CASE("plate and customer are taken off an arrival, and off nothing else") {
  const auto split =
      split_personal(
          R"({"what":"vehicle-in","reference":"a","bay":"front","plate":"DEMO 1","customer":"N. N."})")
          .value();
  CHECK(split.plate == "DEMO 1");
  CHECK(split.customer == "N. N.");
  CHECK(split.json.find("DEMO") == std::string::npos);
  CHECK(split.json.find("N. N.") == std::string::npos);
  CHECK(parse_event(split.json, {}).has_value());

  const std::string plain = R"({ "what": "note", "vehicle": 1, "note": "x" })";
  CHECK(split_personal(plain).value().json == plain);  // as it came
  CHECK(split_personal("no json").value().json == "no json");
  // On another kind it stays, and is refused as the field that it has not.
  const auto other = split_personal(R"({"what":"note","vehicle":1,"plate":"DEMO 1"})").value();
  CHECK(other.plate.empty());
  CHECK(parse_event(other.json, {}).error().where == "/plate");
}

TEST_CASE("what cannot be kept is refused without repeating it") {
  const std::string head = R"({"what":"vehicle-in","reference":"a","bay":"front",)";
  const auto number = split_personal(head + R"("plate":4711})");
  REQUIRE_FALSE(number.has_value());
  CHECK(to_string(number.error()).find("4711") == std::string::npos);
  CHECK(number.error().where == "/plate");
  CHECK(split_personal(head + R"("customer":")" + std::string(201, 'x') + "\"}").error().where ==
        "/customer");
  CHECK(split_personal(head + R"("plate":null})").value().plate.empty());
  // A commitment that a sender brings would commit the shop to what nobody told it.
  CHECK(split_personal(head + R"("plate_sha256":"00"})").error().where == "/plate_sha256");
}

}  // namespace
}  // namespace dryclock::ingest
