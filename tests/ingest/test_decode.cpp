#include "ingest/decode.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace dryclock;
using ingest::decode;
using ingest::Mappings;

namespace {

const Time received = parse_rfc3339("2026-03-01T20:00:00Z").value();

SensorMapping mapping(std::string topic, std::string pointer, Unit unit = Unit::celsius,
                      Quantity quantity = Quantity::air_temperature) {
  SensorMapping out;
  out.sensor = "probe";
  out.bay = "front";
  out.topic = std::move(topic);
  out.pointer = std::move(pointer);
  out.unit = unit;
  out.quantity = quantity;
  return out;
}

JournalRow message(std::string topic, std::string payload) {
  JournalRow row;
  row.seq = 7;
  row.message = {std::move(topic), std::move(payload), received, 1, false, false};
  return row;
}

Decoded decode_one(const SensorMapping& m, std::string payload) {
  return decode(message("bays/front", std::move(payload)), {m});
}

void check_rejected(const SensorMapping& m, std::string payload, RejectReason why, std::string_view words) {
  CAPTURE(payload);
  const auto out = decode_one(m, std::move(payload));
  CHECK(out.readings.empty());
  REQUIRE(out.rejects.size() == 1);
  CHECK(out.rejects[0].why == why);
  CAPTURE(out.rejects[0].detail);
  CHECK(out.rejects[0].detail.find(words) != std::string::npos);
}

}  // namespace

TEST_CASE("a plain number") {
  const auto out = decode_one(mapping("bays/front", ""), " 21.5\n");
  REQUIRE(out.readings.size() == 1);
  const auto& r = out.readings[0];
  CHECK(r.sensor == "probe");
  CHECK(r.bay == "front");
  CHECK(r.value == 21.5);
  CHECK(r.raw == 21.5);
  CHECK(r.at == received);
  CHECK_FALSE(r.source_time);
  CHECK(decode_one(mapping("bays/front", ""), "\t+4.5\r\n").readings.at(0).value == 4.5);
}

TEST_CASE("one message may hold several quantities") {
  const Mappings both{mapping("bays/+", "/temperature"),
                      mapping("bays/+", "/humidity", Unit::percent, Quantity::relative_humidity)};
  const auto out = decode(message("bays/front", R"({"temperature":20.5,"humidity":48,"battery":91})"), both);
  REQUIRE(out.readings.size() == 2);
  CHECK(out.readings[0].value == 20.5);
  CHECK(out.readings[1].quantity == Quantity::relative_humidity);
  CHECK(out.readings[1].value == 48.0);
}

// Escapes and array indices as in the examples of RFC 6901, section 5.
TEST_CASE("pointers into the payload [RFC 6901: 5]") {
  const std::string document =
      R"({"foo":[11,22],"":0,"a/b":1,"c%d":2,"e^f":3,"g|h":4,"i\\j":5,"k\"l":6," ":7,"m~n":8})";
  const auto value = [&](const std::string& pointer) {
    const auto out = decode_one(mapping("bays/front", pointer), document);
    REQUIRE_MESSAGE(out.readings.size() == 1, pointer);
    return out.readings[0].value;
  };
  CHECK(value("/foo/0") == 11);
  CHECK(value("/foo/1") == 22);
  CHECK(value("/") == 0);
  CHECK(value("/a~1b") == 1);
  CHECK(value("/c%d") == 2);
  CHECK(value("/e^f") == 3);
  CHECK(value("/g|h") == 4);
  CHECK(value("/i\\j") == 5);
  CHECK(value("/k\"l") == 6);
  CHECK(value("/ ") == 7);
  CHECK(value("/m~0n") == 8);
}

// 32 F and 212 F are 0 C and 100 C; 273.15 K is 0 C: the scales' definitions.
TEST_CASE("units are converted after slope and offset") {
  const auto value = [](Unit unit, double slope, double offset, const char* payload) {
    auto m = mapping("bays/front", "", unit);
    m.slope = slope;
    m.offset = offset;
    return decode_one(m, payload).readings.at(0).value;
  };
  CHECK(value(Unit::fahrenheit, 1, 0, "32") == doctest::Approx(0.0));
  CHECK(value(Unit::fahrenheit, 1, 0, "212") == doctest::Approx(100.0));
  CHECK(value(Unit::kelvin, 1, 0, "273.15") == doctest::Approx(0.0));
  CHECK(value(Unit::fraction, 1, 0, "0.5") == doctest::Approx(50.0));
  CHECK(value(Unit::fahrenheit, 0.1, -1.0, "330") == doctest::Approx(0.0));  // 0.1 x 330 - 1 = 32 F
  CHECK(value(Unit::percent, 1.02, -0.5, "50") == doctest::Approx(50.5));
}

TEST_CASE("the sensor's own time") {
  auto m = mapping("bays/front", "/t");
  m.time_pointer = "/at";
  const auto at = [&](const char* payload) {
    const auto out = decode_one(m, payload);
    REQUIRE_MESSAGE(out.readings.size() == 1, payload);
    CHECK(out.readings[0].source_time);
    return out.readings[0].at;
  };
  const Time expected = parse_rfc3339("2026-03-01T19:59:30Z").value();
  CHECK(at(R"({"t":21,"at":"2026-03-01T19:59:30Z"})") == expected);
  CHECK(at(R"({"t":21,"at":"2026-03-01T20:59:30+01:00"})") == expected);
  CHECK(at(R"({"t":21,"at":1772395170})") == expected);  // date -u -d @1772395170
  CHECK(at(R"({"t":21,"at":1772395170.25})") == expected + Millis{250});
  CHECK(at(R"({"t":21,"at":1772395170000})") == expected);

  check_rejected(m, R"({"t":21,"at":"2026-03-01T19:59:30"})", RejectReason::bad_time, "/at");
  check_rejected(m, R"({"t":21,"at":0})", RejectReason::bad_time, "not set");
  check_rejected(m, R"({"t":21,"at":true})", RejectReason::bad_time, "true");
  check_rejected(m, R"({"t":21,"at":1e300})", RejectReason::bad_time, "/at");
  check_rejected(m, R"({"t":21})", RejectReason::bad_time, "not in the payload");
}

TEST_CASE("what is refused says which mapping and what was found") {
  const auto plain = mapping("bays/front", "");
  check_rejected(plain, "None", RejectReason::not_a_number, "sensor probe, air-temperature: found \"None\"");
  check_rejected(plain, "", RejectReason::not_a_number, "found \"\"");
  check_rejected(plain, "21,5", RejectReason::not_a_number, "21,5");
  check_rejected(plain, "21 C", RejectReason::not_a_number, "21 C");
  check_rejected(plain, "0x15", RejectReason::not_a_number, "0x15");
  check_rejected(plain, "+-5", RejectReason::not_a_number, "+-5");
  check_rejected(plain, "nan", RejectReason::not_finite, "nan");
  check_rejected(plain, "-inf", RejectReason::not_finite, "-inf");
  check_rejected(plain, "1e400", RejectReason::not_finite, "1e400");

  const auto field = mapping("bays/front", "/t");
  check_rejected(field, R"({"t":1e400})", RejectReason::not_finite, "/t");
  check_rejected(field, R"({"t":null})", RejectReason::not_a_number, "/t holds null");
  check_rejected(field, R"({"t":{"v":1}})", RejectReason::not_a_number, "/t holds");
  check_rejected(field, R"({"t":"unavailable"})", RejectReason::not_a_number, "unavailable");
  check_rejected(field, R"({"x":1})", RejectReason::no_such_field, "/t is not in");
  check_rejected(field, "21.5", RejectReason::no_such_field, "/t");
  check_rejected(field, "online", RejectReason::not_json, "online");
  check_rejected(field, R"({"t":NaN})", RejectReason::not_json, "NaN");
  check_rejected(field, "\xEF\xBB\xBF{\"t\":1}", RejectReason::not_json, "byte order mark");
  check_rejected(field, std::string("{\"t\":1}\0", 8), RejectReason::not_json, "{");
  check_rejected(field, std::string(33, '[') + std::string(33, ']'), RejectReason::not_json, "[");
  check_rejected(field, "{\"t\":1,\"x\":\"" + std::string(70'000, 'x') + "\"}", RejectReason::too_large,
                 "65536");
}

TEST_CASE("a quoted number is a number") {
  CHECK(decode_one(mapping("bays/front", "/t"), R"({"t":"21.5"})").readings.at(0).value == 21.5);
}

TEST_CASE("a topic that nothing is set up for is one reject") {
  const auto out = decode(message("bays/yard", "1"), {mapping("bays/front", "")});
  REQUIRE(out.rejects.size() == 1);
  CHECK(out.rejects[0].why == RejectReason::unknown_topic);
  CHECK(out.rejects[0].detail.find("bays/yard") != std::string::npos);
}

TEST_CASE("the broker's hints travel with the reading") {
  auto row = message("bays/front", "21");
  row.message.dup = true;
  row.message.retained = true;
  const auto out = decode(row, {mapping("bays/front", "")});
  CHECK(out.readings.at(0).dup);
  CHECK(out.readings.at(0).retained);
}

TEST_CASE("event rows give the event, numbered by the row; rows about the daemon give nothing") {
  auto row = message("", R"({"what":"note","vehicle":3,"note":"dust on the bonnet"})");
  row.kind = RowKind::event;
  const auto out = decode(row, {});
  REQUIRE(out.event);
  CHECK(out.event->seq == 7);
  CHECK(out.event->at == received);
  CHECK(out.event->note == "dust on the bonnet");

  row.message.payload = R"({"what":"dance"})";
  const auto bad = decode(row, {});
  REQUIRE(bad.rejects.size() == 1);
  CHECK(bad.rejects[0].why == RejectReason::bad_event);

  for (const auto kind : {RowKind::started, RowKind::clock_step, RowKind::tick, RowKind::shown}) {
    row.kind = kind;
    const auto none = decode(row, {});
    CHECK(none.readings.empty());
    CHECK(none.rejects.empty());
    CHECK_FALSE(none.event);
  }
}

TEST_CASE("a learnt row gives what a vehicle taught; an unreadable one is one reject") {
  auto row =
      message("vehicle/7", R"({"vehicle":7,"at":"2026-03-02T22:14:00Z","release":9,"after":9,"pieces":[]})");
  row.kind = RowKind::learnt;
  const auto out = decode(row, {});
  REQUIRE(out.learnt);
  CHECK(out.learnt->release == 9);
  CHECK(out.rejects.empty());
  row.message.topic = "vehicle/8";
  const auto none = decode(row, {});
  CHECK_FALSE(none.learnt);
  REQUIRE(none.rejects.size() == 1);
  CHECK(none.rejects[0].why == RejectReason::bad_event);
}

TEST_CASE("an announced row gives what was said; an unreadable one is one reject that tells where") {
  auto row = message(
      "vehicle/7",
      R"({"vehicle":7,"at":"2026-03-02T22:14:00Z","announcements":[{"piece":9,"which":"wrap-ready","word":"ready","probability":0.9}]})");
  row.kind = RowKind::announced;
  const auto out = decode(row, {});
  REQUIRE(out.announced);
  CHECK(out.announced->vehicle == 7);
  CHECK(out.announced->announcements.at(0).piece == 9);
  CHECK(out.rejects.empty());

  const auto refused = [](const JournalRow& bad) {
    const auto none = decode(bad, {});
    CHECK_FALSE(none.announced);
    REQUIRE(none.rejects.size() == 1);
    CHECK(none.rejects[0].why == RejectReason::bad_event);
    return none.rejects[0].detail;
  };
  auto other = row;
  other.message.topic = "vehicle/8";
  CHECK(refused(other).starts_with("/vehicle: "));
  other.message.topic.clear();
  CHECK(refused(other).starts_with("/vehicle: "));
  for (const auto* payload : {"", "{", "[]", "\xff", R"({"vehicle":7})", R"({"vehicle":1e99,"at":3})"}) {
    CAPTURE(payload);
    row.message.payload = payload;
    CHECK_FALSE(refused(row).empty());
  }
  row.message.payload =
      R"({"vehicle":7,"at":"2026-03-02T22:14:00Z","announcements":[{"piece":9,"which":"sealed","word":"ready","probability":0.9}]})";
  CHECK(refused(row).starts_with("/announcements/0/which: "));
}
