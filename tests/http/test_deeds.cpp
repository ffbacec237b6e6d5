#include <doctest/doctest.h>
#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <string>
#include <vector>

#include "http/asker.hpp"

namespace dryclock::http {

namespace json = boost::json;

TEST_CASE("several events are one deed, taken once and taken back at once") {
  Asker ask;
  const auto deed = [&](const std::string& body) { return ask("POST", "/api/v1/deeds", body); };
  const auto event = [](const char* what, const std::string& piece) {
    return fmt::format(R"({{"what":"{}","piece":{}}})", what, piece);
  };
  const auto bonnet = ask.piece("bonnet");
  const auto headlamp =
      fmt::format(R"({{"what":"lay","vehicle":{},"panel":"headlamp","side":"left"}})", ask.vehicle());
  const auto laid = json::parse(ask.tell(headlamp).body).at("seq").as_int64();
  const auto both = fmt::format(R"({{"key":"two","events":[{},{}]}})", event("refitted", bonnet),
                                event("edge-wrapped", std::to_string(laid)));
  const auto taken = deed(both);
  CAPTURE(taken.body);
  REQUIRE(taken.status == 201);
  CHECK(json::parse(taken.body).at("events").as_array().size() == 2);
  const auto again = deed(both);
  CHECK(again.status == 200);
  CHECK(json::parse(again.body).at("events") == json::parse(taken.body).at("events"));
  const auto wrapped = [&] {
    const auto vehicle = ask.read("/api/v1/vehicles/" + ask.vehicle());
    return !named(vehicle.at("pieces"), "panel", "headlamp").at("wrapped").is_null();
  };
  CHECK(wrapped());
  // One that cannot be: none is taken.
  const auto events = ask.read("/api/v1/events").at("events").as_array().size();
  const auto refused = deed(fmt::format(R"({{"key":"three","events":[{},{}]}})",
                                        event("trimmed", std::to_string(laid)), event("trimmed", "99999")));
  CHECK(refused.status == 409);
  CHECK(json::parse(refused.body).at("where").as_string() == "/events/1/piece");
  CHECK(ask.read("/api/v1/events").at("events").as_array().size() == events);

  const auto undone = deed(R"({"key":"back","undo":"two","who":"ab","note":"slipped"})");
  CHECK(undone.status == 201);
  const auto events_of_undo = json::parse(undone.body).at("events");
  for (const auto& one : events_of_undo.as_array()) {
    CHECK(one.at("who").as_string() == "ab");
    CHECK(one.at("note").as_string() == "slipped");
  }
  CHECK(events_of_undo.as_array().size() == 2);
  CHECK_FALSE(wrapped());
  CHECK(deed(R"({"key":"back","undo":"two"})").status == 200);
  const auto nothing = deed(R"({"key":"once-more","undo":"two"})");
  CHECK(nothing.status == 409);
  CHECK(json::parse(nothing.body).at("fact").at("key").as_string() == "refusals.no-deed");
  CHECK(deed(R"({"key":"redo","undo":"back"})").status == 201);  // what was taken back stands again
  CHECK(wrapped());
  CHECK(deed("{}").status == 400);
  CHECK(ask("POST", "/api/v1/deeds", both, {{"content-type", "text/plain"}}).status == 415);
}

TEST_CASE("a panel that has a piece is refused with the pieces that it has; words of one's own come back") {
  Asker ask;
  const auto lay = [&](const std::string& more) {
    return ask.tell(
        fmt::format(R"({{"what":"lay","vehicle":{},"panel":"headlamp"{}}})", ask.vehicle(), more));
  };
  const auto left = json::parse(lay(R"(,"side":"left")").body).at("seq").as_int64();
  CHECK(lay(R"(,"side":"right","place":"cap only")").status == 201);
  const auto refused = lay(R"(,"side":"left")");
  CHECK(refused.status == 409);
  const auto fact = json::parse(refused.body).at("fact");
  CHECK(fact.at("key").as_string() == "refusals.has-piece");
  const auto there = fact.at("values").at(0).at("facts");
  REQUIRE(there.as_array().size() == 1);
  CHECK(named(there.at(0).at("values"), "name", "number").at("text").as_string() == std::to_string(left));
  CHECK(refused.body.find("left headlamp") != std::string::npos);
  const auto catalogue = ask.read("/api/v1/catalogue");
  CHECK(catalogue.at("own_places") == json::value{"cap only"});
}

TEST_CASE("vehicles of all years are found by words") {
  Asker ask;
  const auto found = [&](const std::string& query) {
    const auto answer = ask.read("/api/v1/search?" + query);
    std::vector<std::string> references;
    for (const auto& vehicle : answer.at("vehicles").as_array()) {
      references.emplace_back(vehicle.at("reference").as_string().c_str());
    }
    return references;
  };
  using All = std::vector<std::string>;
  CHECK(found("q=green%20saloon") == All{"Green saloon"});  // it has left
  CHECK(found("q=GREY") == All{estate});
  CHECK(found("q=nowhere").empty());
  CHECK(ask("GET", "/api/v1/search?lifted=perhaps").status == 400);
  CHECK(ask("GET", "/api/v1/search?from=x").status == 400);
}

}  // namespace dryclock::http
