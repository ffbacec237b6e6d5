#include <doctest/doctest.h>

#include "seal/streams.hpp"
#include "sealed_shop.hpp"

namespace dryclock::seal {
namespace {

JournalRow event(Seq seq, std::string json) {
  return {.seq = seq,
          .kind = RowKind::event,
          .message = {.topic = {}, .payload = std::move(json), .received_at = evening}};
}

TEST_CASE("an event is sealed with its vehicle") {
  Streams streams(read_event);
  CHECK(streams.stream_of(event(4, R"({"what":"vehicle-in","reference":"demo-1","bay":"front"})")) ==
        vehicle_stream(4));
  CHECK(streams.stream_of(event(6, R"({"what":"note","vehicle":4,"note":"x"})")) == vehicle_stream(4));
  CHECK(streams.stream_of(
            event(7, R"({"what":"lay","vehicle":4,"panel":"bonnet","film":"baseline","solution":"slip"})")) ==
        vehicle_stream(4));
  CHECK(streams.stream_of(event(8, R"({"what":"trimmed","piece":7})")) == vehicle_stream(4));
  CHECK(streams.stream_of(event(9, R"({"what":"superseded","event":8})")) == vehicle_stream(4));
}

TEST_CASE(
    "what was shown and announced of a vehicle is sealed with it, what concerns the shop with the daemon's "
    "rows") {
  Streams streams(read_event);
  const auto of_kind = [&](RowKind kind, std::string topic) {
    return streams.stream_of(
        {.seq = 9, .kind = kind, .message = {.topic = std::move(topic), .payload = "{}", .received_at = {}}});
  };
  const auto shown = [&](std::string topic) { return of_kind(RowKind::shown, std::move(topic)); };
  CHECK(shown("vehicle/4") == vehicle_stream(4));
  CHECK(of_kind(RowKind::announced, "vehicle/4") == vehicle_stream(4));
  CHECK(of_kind(RowKind::learnt, "vehicle/4") == vehicle_stream(4));
  CHECK(shown("") == daemon_stream());
  CHECK(shown("vehicle/") == daemon_stream());
}

TEST_CASE("what belongs to no vehicle is sealed with the daemon's rows") {
  Streams streams(read_event);
  CHECK(streams.stream_of(event(1, "not JSON")) == daemon_stream());
  CHECK(streams.stream_of(event(2, R"({"what":"acknowledged","alert":"bay-cold/front"})")) ==
        daemon_stream());
  CHECK(streams.stream_of(event(3, R"({"what":"trimmed","piece":99})")) == daemon_stream());
  CHECK(streams.stream_of({.seq = 5, .kind = RowKind::tick, .message = {}}) == daemon_stream());
}

TEST_CASE("a message is sealed with its topic") {
  Streams streams(read_event);
  const JournalRow row{.seq = 1,
                       .kind = RowKind::message,
                       .message = {.topic = "bay/front", .payload = "1", .received_at = {}}};
  CHECK(streams.stream_of(row) == topic_stream("bay/front"));
}

TEST_CASE("without the salt a stream's id tells nothing") {
  const auto id = stream_id("salt", topic_stream("bay/front"));
  CHECK(id.size() == 16);
  CHECK(id == stream_id("salt", topic_stream("bay/front")));
  CHECK(id != stream_id("other", topic_stream("bay/front")));
  CHECK(id != stream_id("salt", topic_stream("bay/back")));
}

}  // namespace
}  // namespace dryclock::seal
