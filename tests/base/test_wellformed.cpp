#include "base/wellformed.hpp"

#include <doctest/doctest.h>

using namespace dryclock;

// The examples of MQTT 5.0 section 4.7.1 (OASIS Standard, 2019): valid and not valid filters.
TEST_CASE("topic filters [MQTT 5.0 section 4.7.1]") {
  for (const auto* valid : {"sport/tennis/player1/#", "sport/#", "#", "sport/tennis/#", "+", "+/tennis/#",
                            "sport/+/player1", "/+", "/finance", "$SYS/#", "$SYS/monitor/+"}) {
    CAPTURE(valid);
    CHECK(wrong_with_topic_filter(valid).empty());
  }
  for (const auto* invalid : {"sport/tennis#", "sport/tennis/#/ranking", "sport+", ""}) {
    CAPTURE(invalid);
    CHECK_FALSE(wrong_with_topic_filter(invalid).empty());
  }
  CHECK_FALSE(wrong_with_topic_filter(std::string("a\0b", 3)).empty());
  CHECK(wrong_with_topic_filter(std::string(65535, 'a')).empty());
  CHECK_FALSE(wrong_with_topic_filter(std::string(65536, 'a')).empty());
}

TEST_CASE("a base to publish below has no wildcard and is not the broker's own") {
  CHECK(wrong_with_topic_base("shop/dryclock").empty());
  for (const auto* invalid : {"", "shop/+", "#", "$SYS", "shop/"}) {
    CAPTURE(invalid);
    CHECK_FALSE(wrong_with_topic_base(invalid).empty());
  }
}

// The examples of RFC 6901 section 5, and its syntax rule in section 3.
TEST_CASE("JSON pointers [RFC 6901 sections 3 and 5]") {
  for (const auto* valid :
       {"", "/foo", "/foo/0", "/", "/a~1b", "/c%d", "/e^f", "/g|h", "/i\\j", "/k\"l", "/ ", "/m~0n"}) {
    CAPTURE(valid);
    CHECK(wrong_with_pointer(valid).empty());
  }
  for (const auto* invalid : {"foo", "/a~", "/a~2b"}) {
    CAPTURE(invalid);
    CHECK_FALSE(wrong_with_pointer(invalid).empty());
  }
}

// As section 5 has them: its example's keys and the pointers to them.
TEST_CASE("a key within a JSON pointer [RFC 6901 sections 3 and 5]") {
  CHECK(pointer_token("a/b") == "a~1b");
  CHECK(pointer_token("m~n") == "m~0n");
  CHECK(pointer_token("~1") == "~01");
  CHECK(pointer_token("g|h ") == "g|h ");
  CHECK(pointer_token("").empty());
}

TEST_CASE("keys and names") {
  CHECK(wrong_with_key("dense-topcoat-2").empty());
  CHECK_FALSE(wrong_with_key("Dense topcoat").empty());
  CHECK(wrong_with_name("Bay 2 (rear)").empty());
  for (const auto* invalid : {"a/b", "a+", "#", "a\nb"}) {
    CAPTURE(invalid);
    CHECK_FALSE(wrong_with_name(invalid).empty());
  }
}
