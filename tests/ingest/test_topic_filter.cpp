#include "ingest/topic_filter.hpp"

#include <doctest/doctest.h>

using dryclock::ingest::matches;

// The examples of the standard's section 4.7 (OASIS, MQTT 3.1.1, 2014), as printed there.
TEST_CASE("multi-level wildcard [MQTT 3.1.1: 4.7.1.2]") {
  CHECK(matches("sport/tennis/player1/#", "sport/tennis/player1"));
  CHECK(matches("sport/tennis/player1/#", "sport/tennis/player1/ranking"));
  CHECK(matches("sport/tennis/player1/#", "sport/tennis/player1/score/wimbledon"));
  CHECK(matches("sport/#", "sport"));
  CHECK(matches("#", "anything/at/all"));
  CHECK_FALSE(matches("sport/tennis#", "sport/tennis"));
  CHECK_FALSE(matches("sport/tennis/#/ranking", "sport/tennis/player1/ranking"));
}

TEST_CASE("single-level wildcard [MQTT 3.1.1: 4.7.1.3]") {
  CHECK(matches("sport/tennis/+", "sport/tennis/player1"));
  CHECK_FALSE(matches("sport/tennis/+", "sport/tennis/player1/ranking"));
  CHECK_FALSE(matches("sport/+", "sport"));
  CHECK(matches("sport/+", "sport/"));
  CHECK(matches("+/+", "/finance"));
  CHECK(matches("/+", "/finance"));
  CHECK_FALSE(matches("+", "/finance"));
  CHECK_FALSE(matches("sport+", "sport1"));
}

TEST_CASE("topics beginning with $ [MQTT 3.1.1: 4.7.2]") {
  CHECK_FALSE(matches("#", "$SYS/broker/load"));
  CHECK_FALSE(matches("+/monitor/Clients", "$SYS/monitor/Clients"));
  CHECK(matches("$SYS/#", "$SYS/broker/load"));
  CHECK(matches("$SYS/monitor/+", "$SYS/monitor/Clients"));
}

TEST_CASE("names are case-sensitive and levels may be empty [MQTT 3.1.1: 4.7.3]") {
  CHECK_FALSE(matches("ACCOUNTS", "Accounts"));
  CHECK(matches("Accounts payable", "Accounts payable"));
  CHECK_FALSE(matches("/finance", "finance"));
  CHECK_FALSE(matches("", "finance"));
  CHECK_FALSE(matches("a/b", "a"));
  CHECK_FALSE(matches("a", "a/b"));
}
