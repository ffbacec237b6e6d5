#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/value.hpp>
#include <stdexcept>

#include "http/fake_shop.hpp"
#include "http/router.hpp"

namespace dryclock::http {
namespace {

namespace json = boost::json;

constexpr Asset assets[] = {{"/", "text/html; charset=utf-8", "\"1\"", "<p>page</p>", "gzipped"}};

struct Asker {
  ManualClock clock{parse_rfc3339("2026-03-07T06:40:00Z").value()};
  fake::Shop shop{clock};
  Services services = shop.services([] {});

  Response operator()(const std::string& method, const std::string& target, const std::string& body = {},
                      std::vector<std::pair<std::string, std::string>> headers = {}) {
    Router router{services, Guard{{}, {}}, assets};
    Request request;
    request.method = method;
    request.target = target;
    request.body = body;
    request.headers = std::move(headers);
    request.headers.emplace_back("host", "localhost");
    request.headers.emplace_back("content-type", "application/json; charset=utf-8");
    request.from_this_machine = true;
    Response answered;
    int answers = 0;
    router.handle(request, {}, [&](Response response) {
      answered = std::move(response);
      ++answers;
    });
    CHECK(answers == 1);
    return answered;
  }
};

std::string header(const Response& response, const std::string& name) {
  std::string value;
  for (const auto& [key, text] : response.headers) {
    if (key == name) {
      value += (value.empty() ? "" : "; twice: ") + text;
    }
  }
  return value;
}

}  // namespace

TEST_CASE("every route answers") {
  Asker ask;
  for (const auto* target :
       {"/", "/api/v1/board", "/api/v1/vehicles/1", "/api/v1/bays/front/air", "/api/v1/pieces/2/history",
        "/api/v1/catalogue", "/api/v1/alerts", "/api/v1/events", "/api/v1/events?vehicle=1", "/api/v1/health",
        "/api/v1/sensors", "/api/v1/sensors/search", "/api/v1/coupons", "/api/v1/openapi.json",
        "/api/v1/access"}) {
    CAPTURE(target);
    const auto response = ask("GET", target);
    CHECK(response.status == 200);
    CHECK_FALSE(response.body.empty());
    CHECK(header(response, "Content-Security-Policy").starts_with("default-src 'none'"));
    CHECK(header(response, "X-Content-Type-Options") == "nosniff");
    CHECK(header(response, "Access-Control-Allow-Origin").empty());
    CHECK(header(response, "Cache-Control") == (std::string{target} == "/" ? "no-cache" : "no-store"));
  }
  CHECK(ask("GET", "/api/v1/live").live);
}

TEST_CASE("what the rechecks found is told") {
  Asker ask;
  const auto answer = ask("GET", "/api/v1/rechecks");
  CHECK(answer.status == 200);
  CHECK(answer.body.find(R"("by":"trim","of":"0-50 %","pieces":7,"lifted":4)") != std::string::npos);
  CHECK(ask("GET", "/api/v1/rechecks?from=x").status == 400);
  CHECK(ask("POST", "/api/v1/rechecks", "{}").status == 405);
}

TEST_CASE("plate and customer are asked for by themselves") {
  Asker ask;
  CHECK(ask("GET", "/api/v1/vehicles/1/personal").body == R"({"vehicle":1,"plate":null,"customer":null})");
  CHECK(ask("GET", "/api/v1/vehicles/x/personal").status == 404);
  CHECK(ask("GET", "/api/v1/vehicles/1/personal?a=b").status == 400);
}

TEST_CASE("a search for sensors is started by POST and looked at by GET") {
  Asker ask;
  CHECK(json::parse(ask("GET", "/api/v1/sensors/search").body).at("running").as_bool() == false);
  const auto begun = ask("POST", "/api/v1/sensors/search", R"({"seconds":5})");
  CHECK(begun.status == 202);
  const auto search = json::parse(ask("GET", "/api/v1/sensors/search").body);
  CHECK(search.at("running").as_bool());
  CHECK(search.at("topics").at(1).at("kind").as_string() == "availability");
  CHECK(search.at("topics").at(2).at("kind").as_string() == "taken");
  const auto& found = search.at("sensors").at(0);
  CHECK(found.at("name").as_string() == "loft");
  CHECK(found.at("reads").at(1).at("unit").as_string() == "fraction");
  CHECK(found.at("reads").at(1).at("sample").as_string() == "0.55");
  CHECK(ask("POST", "/api/v1/sensors/search").status == 202);  // a minute where nobody says

  for (const auto* wrong :
       {R"({"seconds":4})", R"({"seconds":601})", R"({"seconds":"5"})", R"({"for":5})", "[]", "x"}) {
    CAPTURE(wrong);
    CHECK(ask("POST", "/api/v1/sensors/search", wrong).status == 400);
  }
  CHECK(ask("POST", "/api/v1/sensors/search", R"({"seconds":13})").status ==
        503);  // this shop's broker is away then
  CHECK(ask("DELETE", "/api/v1/sensors/search").status == 405);
  CHECK(header(ask("DELETE", "/api/v1/sensors/search"), "Allow") == "GET, HEAD, POST");
  CHECK(ask("POST", "/api/v1/sensors").status == 405);
  CHECK(ask("POST", "/api/v1/coupons").status == 405);
  CHECK(ask("GET", "/api/v1/sensors?bay=front").status == 400);
  CHECK(ask("GET", "/api/v1/sensors/front").status == 404);
}

TEST_CASE("sensors are told with their readings, and a result as the event that keeps it") {
  Asker ask;
  auto sensors = json::parse(ask("GET", "/api/v1/sensors").body);
  const auto front = sensors.at("sensors").at(0);
  CHECK(front.at("sensor").as_string() == "front-wall");
  CHECK(front.at("from").as_string() == "file");
  CHECK(front.at("reads").at(0).at("value").as_double() == 16.5);
  CHECK(front.at("reads").at(1).at("counts").at("spike").as_int64() == 2);
  CHECK(front.at("checking").is_null());
  CHECK(front.at("last_check").is_null());
  // OIML R 121:1996, Table 1, sodium chloride at 20 C: 75.5 %RH.
  CHECK(sensors.at("salts").at(3).at("salt").as_string() == "NaCl");
  CHECK(sensors.at("salts").at(3).at("expected_pct").to_number<double>() ==
        doctest::Approx(75.5).epsilon(1e-9));

  CHECK(
      ask("POST", "/api/v1/events", R"({"what":"sensor-check-started","sensor":"front-wall","salt":"NaCl"})")
          .status == 201);
  sensors = json::parse(ask("GET", "/api/v1/sensors").body);
  const auto result = json::serialize(sensors.at("sensors").at(0).at("checking").at("result"));
  CHECK(ask("POST", "/api/v1/events", result).status == 201);
  sensors = json::parse(ask("GET", "/api/v1/sensors").body);
  CHECK(sensors.at("sensors").at(0).at("checking").is_null());
  CHECK(sensors.at("sensors").at(0).at("last_check").at("verdict").as_string() == "off");
}

TEST_CASE("a coupon's result is told, and what was measured stands in the catalogue") {
  Asker ask;
  CHECK(json::parse(ask("GET", "/api/v1/catalogue").body).at("measured").as_array().empty());
  CHECK(
      ask("POST", "/api/v1/events",
          R"({"what":"coupon-laid","film":"baseline","lot":"L7","bay":"front","area_m2":0.09,"water_grams":0.9})")
          .status == 201);
  auto coupons = json::parse(ask("GET", "/api/v1/coupons").body);
  const auto number = coupons.at("coupons").at(0).at("coupon").as_int64();
  CHECK(coupons.at("coupons").at(0).at("result").is_null());
  CHECK(ask("POST", "/api/v1/events",
            R"({"what":"coupon-weighed","coupon":)" + std::to_string(number) + R"(,"grams":400.5})")
            .status == 201);
  coupons = json::parse(ask("GET", "/api/v1/coupons").body);
  CHECK(ask("POST", "/api/v1/events", json::serialize(coupons.at("coupons").at(0).at("result"))).status ==
        201);
  const auto measured = json::parse(ask("GET", "/api/v1/catalogue").body).at("measured").at(0);
  CHECK(measured.at("film").as_string() == "baseline");
  CHECK(measured.at("lot").as_string() == "L7");
  CHECK(measured.at("resistance").to_number<double>() == 4.5e9);
}

TEST_CASE("a vehicle's record is a file to keep") {
  Asker ask;
  const auto pdf = ask("GET", "/api/v1/vehicles/1/record.pdf");
  CHECK(pdf.status == 200);
  CHECK(pdf.content_type == "application/pdf");
  CHECK(pdf.body == "0 a4");
  CHECK(header(pdf, "Content-Disposition") == "attachment; filename=\"vehicle-1-record.pdf\"");
  CHECK(header(pdf, "Cache-Control") == "no-store");
  const auto zip = ask("GET", "/api/v1/vehicles/1/record.zip?paper=letter");
  CHECK(zip.content_type == "application/zip");
  CHECK(zip.body == "1 letter");
  CHECK(ask("GET", "/api/v1/vehicles/1/handover.pdf?paper=a4").body == "2 a4");
  CHECK(ask("GET", "/api/v1/vehicles/1/receipt.pdf").body == "3 a4");

  CHECK(ask("GET", "/api/v1/vehicles/2/record.pdf").status == 404);
  CHECK(ask("GET", "/api/v1/vehicles/x/record.pdf").status == 404);
  CHECK(ask("GET", "/api/v1/vehicles/1/record.doc").status == 404);
  CHECK(ask("GET", "/api/v1/vehicles/3/record.pdf").status == 503);
  CHECK(ask("GET", "/api/v1/vehicles/1/record.pdf?paper=a3").status == 400);
  CHECK(ask("GET", "/api/v1/vehicles/1/record.pdf?form=zip").status == 400);
  CHECK(ask("POST", "/api/v1/vehicles/1/record.pdf", "{}").status == 405);
}

TEST_CASE("what is not there is 404") {
  Asker ask;
  for (const auto* target :
       {"/nothing", "//", "/api", "/api/v1", "/api/v2/board", "/api/v1/board/", "/api/v1/vehicles",
        "/api/v1/vehicles/99", "/api/v1/vehicles/1x", "/api/v1/vehicles/-1",
        "/api/v1/vehicles/99999999999999999999", "/api/v1/bays/attic/air", "/api/v1/pieces/99/history",
        "/api/v1/pieces/x/history", "/..%2f..%2fetc%2fpasswd", "/../../etc/passwd",
        "/%2e%2e/%2e%2e/etc/passwd"}) {
    CAPTURE(target);
    const auto response = ask("GET", target);
    CHECK(response.status == 404);
    CHECK(response.content_type == "application/problem+json");
  }
}

TEST_CASE("problems are RFC 9457's, and name the place") {
  Asker ask;
  const auto response = ask("GET", "/api/v1/bays/front/air?from=yesterday");
  CHECK(response.status == 400);
  const auto problem = json::parse(response.body);
  CHECK(problem.at("type") == "about:blank");
  CHECK(problem.at("title") == "Bad Request");
  CHECK(problem.at("status") == 400);
  CHECK(problem.at("where") == "from");
}

TEST_CASE("parameters are read, and typing errors told") {
  Asker ask;
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

TEST_CASE("an event is taken once, and its refusals keep their status") {
  Asker ask;
  const std::string lay = R"({"what":"lay","vehicle":1,"panel":"bonnet","key":"k1"})";
  const auto first = ask("POST", "/api/v1/events", lay);
  CHECK(first.status == 201);
  const auto again = ask("POST", "/api/v1/events", lay);
  CHECK(again.status == 200);
  CHECK(json::parse(again.body).at("repeated") == true);
  CHECK(json::parse(again.body).at("seq") == json::parse(first.body).at("seq"));
  CHECK(json::parse(first.body).at("event").at("panel") == "bonnet");
  CHECK(ask("POST", "/api/v1/events", R"({"what":"lay","vehicle":77,"panel":"bonnet"})").status == 409);
  CHECK(ask("POST", "/api/v1/events", "{").status == 400);
  CHECK(ask("POST", "/api/v1/events", "").status == 400);
  const auto unknown =
      ask("POST", "/api/v1/events", R"({"what":"lay","vehicle":1,"panel":"bonnet","colour":1})");
  CHECK(json::parse(unknown.body).at("where") == "/colour");
  ask.shop.refuse(503);
  const auto later = ask("POST", "/api/v1/events", lay);
  CHECK(later.status == 503);
  CHECK(header(later, "Retry-After") == "1");
}

TEST_CASE("methods: 405 with what is allowed") {
  Asker ask;
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
  Asker ask;
  CHECK(ask("POST", "/api/v1/events", "{}", {{"content-type", "text/plain"}}).status == 415);
  CHECK(ask("POST", "/api/v1/events", "{}", {{"content-type", "application/x-www-form-urlencoded"}}).status ==
        415);
}

TEST_CASE("assets: their tag, compressed where that is taken, not sent again where known") {
  Asker ask;
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

TEST_CASE("health answers 503 where a part fails, for those who read the status only") {
  Asker ask;
  ask.shop.refuse(503);
  const auto response = ask("GET", "/api/v1/health");
  CHECK(response.status == 503);
  CHECK(json::parse(response.body).at("ok") == false);
}

TEST_CASE("a service that throws costs one answer, and tells nothing of the inside") {
  Asker ask;
  ask.services.board = []() -> Board { throw std::runtime_error("secret"); };
  const auto response = ask("GET", "/api/v1/board");
  CHECK(response.status == 500);
  CHECK(response.body.find("secret") == std::string::npos);
}

}  // namespace dryclock::http
