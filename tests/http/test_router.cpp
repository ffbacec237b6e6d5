#include <doctest/doctest.h>
#include <fmt/format.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <filesystem>
#include <stdexcept>

#include "http/asker.hpp"
#include "support/full_disk.hpp"
#include "support/mosquitto.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::http {
namespace {

namespace json = boost::json;
using std::chrono::hours;

// For those who change nothing in its shop.
Asker& any_asker() {
  static Asker asker;
  return asker;
}

}  // namespace

TEST_CASE("every route answers") {
  auto& ask = any_asker();
  for (const std::string& target :
       {std::string{"/"}, std::string{"/api/v1/board"}, "/api/v1/vehicles/" + ask.vehicle(),
        std::string{"/api/v1/bays/front/air"}, "/api/v1/pieces/" + ask.piece("bonnet") + "/history",
        std::string{"/api/v1/catalogue"}, std::string{"/api/v1/alerts"}, std::string{"/api/v1/events"},
        "/api/v1/events?vehicle=" + ask.vehicle(), std::string{"/api/v1/sensors"},
        std::string{"/api/v1/sensors/search"}, std::string{"/api/v1/coupons"}, std::string{"/api/v1/plates"},
        std::string{"/api/v1/learned"}, std::string{"/api/v1/handed-over"}, std::string{"/api/v1/search"},
        std::string{"/api/v1/channels"}, std::string{"/api/v1/openapi.json"},
        std::string{"/api/v1/access"}}) {
    CAPTURE(target);
    const auto response = ask("GET", target);
    CHECK(response.status == 200);
    CHECK_FALSE(response.body.empty());
    CHECK(header(response, "Content-Security-Policy").starts_with("default-src 'none'"));
    CHECK(header(response, "X-Content-Type-Options") == "nosniff");
    CHECK(header(response, "Access-Control-Allow-Origin").empty());
    CHECK(header(response, "Cache-Control") == (target == "/" ? "no-cache" : "no-store"));
  }
  CHECK(ask("GET", "/api/v1/live").live);
}

TEST_CASE("vehicles that have left are told with their rechecks, and what all rechecks found") {
  Asker ask;
  const auto gone = ask.read("/api/v1/handed-over").at("vehicles");
  CHECK(gone.at(0).at("reference").as_string() == "Blue hatchback");  // the newest
  const auto& saloon = gone.at(1);
  CHECK(saloon.at("reference").as_string() == "Green saloon");
  CHECK(saloon.at("pieces").as_array().size() == 2);

  const auto found = [&](std::size_t piece, const char* finding) {
    return ask.tell(fmt::format(R"({{"what":"rechecked","piece":{},"finding":"{}"}})",
                                saloon.at("pieces").at(piece).at("id").as_int64(), finding));
  };
  CHECK(found(0, "lifting").status == 201);
  CHECK(found(1, "sound").status == 201);
  const auto answer = ask("GET", "/api/v1/rechecks");
  CHECK(answer.status == 200);
  const auto report = json::parse(answer.body);
  CHECK(report.at("vehicles") == 1);
  const auto all = named(report.at("groups"), "by", "all");
  CHECK(all.at("pieces") == 2);
  CHECK(all.at("lifted") == 1);
  // The bonnet was trimmed 2.5 h after it was laid, and its edge holds 10 g/m2, which take 12 h: no more than
  // one in two would have called it ready.
  const auto trim = named(report.at("groups"), "by", "trim");
  CHECK(trim.at("of").as_string() == "0-50 %");
  CHECK(trim.at("pieces") == 1);
  CHECK(trim.at("lifted") == 1);
  CHECK(ask("GET", "/api/v1/rechecks?from=x").status == 400);
  CHECK(ask("POST", "/api/v1/rechecks", "{}").status == 405);
}

TEST_CASE("plate and customer are asked for by themselves") {
  Asker ask;
  const auto path = [](const std::string& vehicle) { return "/api/v1/vehicles/" + vehicle + "/personal"; };
  CHECK(ask("GET", path(ask.vehicle())).body ==
        R"({"vehicle":)" + ask.vehicle() + R"(,"plate":null,"customer":null})");
  CHECK(
      ask.tell(
             R"({"what":"vehicle-in","reference":"Job 9","bay":"front","plate":"DEMO 1","customer":"N. N."})")
          .status == 201);
  CHECK(ask("GET", path(ask.vehicle("Job 9"))).body ==
        R"({"vehicle":)" + ask.vehicle("Job 9") + R"(,"plate":"DEMO 1","customer":"N. N."})");
  CHECK(ask("GET", "/api/v1/events").body.find("DEMO 1") == std::string::npos);
  CHECK(ask("GET", path("x")).status == 404);
  CHECK(ask("GET", path(ask.vehicle()) + "?a=b").status == 400);
}

TEST_CASE("without a broker there is no search, and the daemon is not well") {
  auto& ask = any_asker();
  CHECK(ask("POST", "/api/v1/sensors/search", R"({"seconds":5})").status == 503);
  const auto response = ask("GET", "/api/v1/health");
  CHECK(response.status == 503);  // for those who read the status only
  const auto health = json::parse(response.body);
  CHECK(health.at("ok") == false);
  CHECK(named(health.at("parts"), "name", "broker").at("ok") == false);
  CHECK(named(health.at("parts"), "name", "database").at("ok") == true);
}

TEST_CASE("a vehicle's record is a file to keep") {
  Asker ask;
  const std::string number = ask.vehicle();
  const std::string papers = "/api/v1/vehicles/" + number + "/";
  const auto pdf = ask("GET", papers + "record.pdf");
  CHECK(pdf.status == 200);
  CHECK(pdf.content_type == "application/pdf");
  CHECK(pdf.body.starts_with("%PDF-"));
  CHECK(header(pdf, "Content-Disposition") == "attachment; filename=\"vehicle-" + number + "-record.pdf\"");
  CHECK(header(pdf, "Cache-Control") == "no-store");
  const auto zip = ask("GET", papers + "record.zip?paper=letter");
  CHECK(zip.content_type == "application/zip");
  CHECK(zip.body.starts_with("PK\x03\x04"));  // APPNOTE.TXT 4.3.7: a local file header
  // One page each, and shorter than the record.
  for (const auto* paper : {"handover.pdf?paper=a4", "receipt.pdf"}) {
    const auto sheet = ask("GET", papers + paper);
    CHECK(sheet.body.starts_with("%PDF-"));
    CHECK(sheet.body.size() < pdf.body.size());
  }
  CHECK(ask("GET", papers + "record.pdf?language=de").body.find("/Title (Trocknungsprotokoll: ") !=
        std::string::npos);
  CHECK(ask("GET", papers + "receipt.pdf?language=en-US").status == 200);
  for (const auto* paper : {"record.pdf", "record.zip", "handover.pdf", "receipt.pdf"}) {
    const auto unknown = ask("GET", papers + paper + "?language=xx");
    CHECK(unknown.status == 400);
    CHECK(unknown.body.find("en-GB, en-US, de") != std::string::npos);
  }
  CHECK(ask("GET", "/api/v1/vehicles/99999/record.pdf").status == 404);
  CHECK(ask("GET", "/api/v1/vehicles/x/record.pdf").status == 404);
  CHECK(ask("GET", papers + "record.doc").status == 404);
  CHECK(ask("GET", papers + "record.pdf?paper=a3").status == 400);
  CHECK(ask("GET", papers + "record.pdf?form=zip").status == 400);
  CHECK(ask("POST", papers + "record.pdf", "{}").status == 405);
  std::filesystem::rename(ask.folder / "dryclock.db", ask.folder / "away.db");
  CHECK(ask("GET", papers + "record.pdf").status == 503);
}

TEST_CASE("what is not there is 404") {
  auto& ask = any_asker();
  for (const auto* target :
       {"/nothing", "//", "/api", "/api/v1", "/api/v2/board", "/api/v1/board/", "/api/v1/vehicles",
        "/api/v1/vehicles/99999", "/api/v1/vehicles/1x", "/api/v1/vehicles/-1",
        "/api/v1/vehicles/99999999999999999999", "/api/v1/bays/attic/air", "/api/v1/pieces/99999/history",
        "/api/v1/pieces/x/history", "/..%2f..%2fetc%2fpasswd", "/../../etc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd"}) {
    CAPTURE(target);
    const auto response = ask("GET", target);
    CHECK(response.status == 404);
    CHECK(response.content_type == "application/problem+json");
  }
}

TEST_CASE("problems are RFC 9457's, and name the place") {
  auto& ask = any_asker();
  const auto response = ask("GET", "/api/v1/bays/front/air?from=yesterday");
  CHECK(response.status == 400);
  const auto problem = json::parse(response.body);
  CHECK(problem.at("type") == "about:blank");
  CHECK(problem.at("title") == "Bad Request");
  CHECK(problem.at("status") == 400);
  CHECK(problem.at("where") == "from");
}

TEST_CASE("parameters are read, and typing errors told") {
  auto& ask = any_asker();
  const auto air = json::parse(
      ask("GET", "/api/v1/bays/front/air?from=2026-03-07T05:00:00Z&to=2026-03-07T06:00:00%2B00:00&every=10")
          .body);
  CHECK(air.at("points").as_array().size() == 6);
  CHECK(air.at("points").at(0).at("at") == "2026-03-07T05:10:00.000Z");
  CHECK(json::parse(ask("GET", "/api/v1/bays/front/air").body).at("every") == 2);
  for (const auto* target :
       {"/api/v1/board?x=1", "/api/v1/bays/front/air?form=x", "/api/v1/bays/front/air?every=0",
        "/api/v1/bays/front/air?every=1441", "/api/v1/bays/front/air?every=1.5",
        "/api/v1/bays/front/air?to=2026-03-01T00:00:00Z&from=2026-03-02T00:00:00Z",
        "/api/v1/bays/front/air?from=1990-01-01T00:00:00Z",
        "/api/v1/bays/front/air?from=2026-01-01T00:00:00Z&every=1", "/api/v1/events?vehicle=one",
        "/api/v1/alerts?since=x", "/api/v1/bays/front/air?every=5&every=5"}) {
    CAPTURE(target);
    CHECK(ask("GET", target).status == 400);
  }
}

TEST_CASE("a parameter that a route does not know is told, as the description says") {
  auto& ask = any_asker();
  const auto description = ask.read("/api/v1/openapi.json");
  for (const auto& [path, methods] : description.at("paths").as_object()) {
    for (const auto& [method, operation] : methods.as_object()) {
      std::string target{std::string_view{path}};
      for (const auto& [part, stands_for] : {std::pair<std::string_view, std::string>{"{id}", ask.vehicle()},
                                             std::pair<std::string_view, std::string>{"{name}", "front"}}) {
        if (const auto at = target.find(part); at != std::string::npos) {
          target.replace(at, part.size(), stands_for);
        }
      }
      CAPTURE(target);
      CHECK(ask(method == "get" ? "GET" : "POST", target + "?colour=red", "{}").status == 400);
      CHECK(operation.at("responses").as_object().contains("400"));
    }
  }
}

TEST_CASE("an event is taken once, and its refusals keep their status") {
  Asker ask;
  const std::string lay =
      R"({"what":"lay","vehicle":)" + ask.vehicle() + R"(,"panel":"boot-lid","key":"k1"})";
  const auto first = ask.tell(lay);
  CHECK(first.status == 201);
  const auto again = ask.tell(lay);
  CHECK(again.status == 200);
  CHECK(json::parse(again.body).at("repeated") == true);
  CHECK(json::parse(again.body).at("seq") == json::parse(first.body).at("seq"));
  CHECK(json::parse(first.body).at("event").at("panel") == "boot-lid");
  CHECK(ask.tell(R"({"what":"lay","vehicle":99999,"panel":"bonnet"})").status == 409);
  CHECK(ask.tell("{").status == 400);
  CHECK(ask.tell("").status == 400);
  const auto unknown = ask.tell(R"({"what":"lay","vehicle":1,"panel":"bonnet","colour":1})");
  CHECK(json::parse(unknown.body).at("where") == "/colour");
  const test::FullDisk full;
  const auto later = ask.tell(R"({"what":"note","vehicle":)" + ask.vehicle() + R"(,"note":"late"})");
  CHECK(later.status == 503);
  CHECK(header(later, "Retry-After") == "1");
}

TEST_CASE("what cannot be is a fact, with words as the shop says it and in English") {
  auto& ask = any_asker();
  const auto van = ask.vehicle("White van");  // came on Saturday at 04:40
  const auto early =
      ask.tell(R"({"what":"lamp","on":false,"at":"2026-03-06T10:00:00Z","vehicle":)" + van + "}");
  CHECK(early.status == 409);
  CHECK(json::parse(early.body) == json::parse(R"({
    "type": "about:blank", "title": "Conflict", "status": 409, "where": "/at",
    "detail": "White van arrived on Sat 2026-03-07 04:40, which is later",
    "fact": {
      "key": "refusals.arrived-later",
      "values": [
        {"name": "reference", "measure": "text", "text": "White van"},
        {"name": "at", "measure": "time", "at": "2026-03-07T04:40:00.000Z"}
      ],
      "words": "White van arrived on Sat 7 Mar 04:40, which is later"
    }
  })"));
  CHECK_FALSE(json::parse(ask.tell("{").body).as_object().contains("fact"));
}

TEST_CASE("methods: 405 with what is allowed") {
  auto& ask = any_asker();
  CHECK(header(ask("PUT", "/api/v1/events"), "Allow") == "GET, HEAD, POST");
  CHECK(header(ask("GET", "/api/v1/channels/shop/test"), "Allow") == "POST");
  CHECK(header(ask("POST", "/api/v1/vehicles/1/record.pdf"), "Allow") == "GET, HEAD");
  CHECK(ask("DELETE", "/api/v1/board").status == 405);
  CHECK(ask("POST", "/").status == 405);
  CHECK(ask("OPTIONS", "/api/v1/board").status == 405);
  CHECK(ask("TRACE", "/").status == 405);
  CHECK(ask("POST", "/nothing").status == 404);
  CHECK(ask("HEAD", "/api/v1/board").status == 200);
}

TEST_CASE("only JSON is taken: a foreign form cannot send it unasked") {
  auto& ask = any_asker();
  CHECK(ask("POST", "/api/v1/events", "{}", {{"content-type", "text/plain"}}).status == 415);
  CHECK(ask("POST", "/api/v1/events", "{}", {{"content-type", "application/x-www-form-urlencoded"}}).status ==
        415);
}

TEST_CASE("assets: their tag, compressed where that is taken, not sent again where known") {
  auto& ask = any_asker();
  const auto plain = ask("GET", "/");
  CHECK(plain.body == "<p>page</p>");
  CHECK(header(plain, "ETag") == "\"1\"");
  const auto gzip = ask("GET", "/", "", {{"accept-encoding", "br, gzip"}});
  CHECK(gzip.body == "gzipped");
  CHECK(header(gzip, "Content-Encoding") == "gzip");
  CHECK(ask("GET", "/", "", {{"accept-encoding", "gzip;q=0"}}).body == "<p>page</p>");
  const auto known = ask("GET", "/", "", {{"if-none-match", "W/\"0\", \"1\""}});
  CHECK(known.status == 304);
  CHECK(known.body.empty());
}

TEST_CASE("while the disk takes nothing, health says so; when it does again, all is well") {
  const test::Mosquitto broker;
  Asker ask{broker.port()};
  CHECK(ask("GET", "/api/v1/health").status == 200);
  const auto note = R"({"what":"note","vehicle":)" + ask.vehicle() + R"(,"note":"late"})";
  {
    const test::FullDisk full;
    CHECK(ask.tell(note).status == 503);
    ask.shop->turns_until([&] {
      const auto response = ask("GET", "/api/v1/health");
      return response.status == 503 &&
             named(json::parse(response.body).at("parts"), "name", "database").at("ok") == false;
    });
  }
  ask.shop->turns_until([&] { return ask("GET", "/api/v1/health").status == 200; });
  CHECK(ask.tell(note).status == 201);
}

TEST_CASE("a service that throws costs one answer, and tells nothing of the inside") {
  auto& ask = any_asker();
  const auto services = ask.services;
  ask.services.board = []() -> Board { throw std::runtime_error("secret"); };
  const auto response = ask("GET", "/api/v1/board");
  ask.services = services;
  CHECK(response.status == 500);
  CHECK(response.body.find("secret") == std::string::npos);
}

}  // namespace dryclock::http
