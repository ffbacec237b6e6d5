#include <doctest/doctest.h>

#include <boost/json/parse.hpp>
#include <boost/json/value.hpp>
#include <random>

#include "base/base64.hpp"
#include "seal/canonical_line.hpp"

namespace dryclock::seal {
namespace {

const Time noon = from_unix_ms(1'772'366'400'000);

JournalRow row_with(std::string payload, std::string topic = "bay/front") {
  return {
      .seq = 7,
      .kind = RowKind::message,
      .message = {.topic = std::move(topic), .payload = std::move(payload), .received_at = noon, .qos = 1},
      .boot_time = Millis{86'400'000},
      .session = 3};
}

TEST_CASE("one row has one form") {
  auto row = row_with(R"({"t":21.5})");
  CHECK(canonical_line(row) ==
        "{\"seq\":7,\"kind\":\"message\",\"received\":\"2026-03-01T12:00:00.000Z\",\"boottime_ms\":86400000,"
        "\"session\":3,\"topic\":\"bay/front\",\"qos\":1,"
        "\"dup\":false,\"retained\":false,\"cut\":false,\"payload\":\"{\\\"t\\\":21.5}\"}\n");
  row.kind = RowKind::clock_step;
  row.message.dup = row.message.cut = true;
  CHECK(canonical_line(row).find("\"kind\":\"clock-step\"") != std::string::npos);
  row.kind = RowKind::announced;
  CHECK(canonical_line(row).find("\"kind\":\"announced\"") != std::string::npos);
  row.kind = RowKind::learnt;
  CHECK(canonical_line(row).find("\"kind\":\"learnt\"") != std::string::npos);
  CHECK(canonical_line(row).find("\"dup\":true,\"retained\":false,\"cut\":true") != std::string::npos);
}

TEST_CASE("any bytes come back through a JSON parser that is not ours") {
  std::minstd_rand random(20260301);
  int as_base64 = 0;
  for (int i = 0; i < 3000; ++i) {
    std::string payload;
    const auto range = i % 2 == 0 ? 256U : 128U;  // every other one is ASCII with control characters
    for (auto left = random() % 40; left > 0; --left) {
      payload += static_cast<char>(random() % range);
    }
    const auto line = canonical_line(row_with(payload));
    REQUIRE(line.find('\n') == line.size() - 1);
    const auto parsed = boost::json::parse(line).as_object();
    if (const auto* text = parsed.if_contains("payload")) {
      CHECK(std::string{std::string_view{text->as_string()}} == payload);
    } else {
      ++as_base64;
      CHECK(std::string{std::string_view{parsed.at("payload_base64").as_string()}} == base64(payload));
    }
  }
  CHECK(as_base64 > 0);
}

TEST_CASE("a topic that is not UTF-8 is kept too") {
  CHECK(canonical_line(row_with("1", "bay/\xff")).find("\"topic_base64\":\"YmF5L/8=\"") != std::string::npos);
}

}  // namespace
}  // namespace dryclock::seal
