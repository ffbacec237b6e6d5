// The daemon's answers, read back into the views of domain/view.hpp. A field that is missing or of another
// kind than agreed throws std::runtime_error naming it: daemon and client are of different versions then.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "domain/rechecks.hpp"
#include "domain/setup.hpp"
#include "domain/space.hpp"
#include "domain/view.hpp"

namespace dryclock::cli {

// The shop and its catalogue's words, as far as a client needs them.
struct Shop {
  std::string name, time_zone;
  bool us_words = false;
  bool fahrenheit = false;
  Catalogue catalogue;  // keys, labels, areas, alcohol, templates; neither layers nor water
};

struct HealthReport {
  bool ok = false;
  std::string version;
  Time started;
  struct Part {
    std::string name;
    bool ok = false;
    std::string text;
  };
  std::vector<Part> parts;
  std::optional<Space> space;
};

struct Personal {
  std::string plate, customer;  // empty: not given, or erased
};

// One event of the journal; `fields` holds those beside the common ones, "panel bonnet, part 1".
struct EventLine {
  Seq seq = 0;
  Time at;
  std::string what, who, note, fields;
};

[[nodiscard]] Board parse_board(std::string_view json);
[[nodiscard]] std::vector<AirPoint> parse_air(std::string_view json);
[[nodiscard]] std::vector<AlertSummary> parse_alerts(std::string_view json);
[[nodiscard]] std::vector<HandedOver> parse_handed_over(std::string_view json);
[[nodiscard]] Shop parse_shop(std::string_view json);
[[nodiscard]] HealthReport parse_health(std::string_view json);
[[nodiscard]] std::vector<EventLine> parse_events(std::string_view json);
[[nodiscard]] RecheckReport parse_rechecks(std::string_view json);
[[nodiscard]] Personal parse_personal(std::string_view json);
// What a channel answered to a test: empty where it was delivered, else why not.
[[nodiscard]] std::string parse_channel_test(std::string_view json);
// Names of the channels.
[[nodiscard]] std::vector<std::string> parse_channels(std::string_view json);
// The number that the journal gave an event just sent.
[[nodiscard]] Seq parse_accepted(std::string_view json);
// "detail (where)" of an RFC 9457 problem; empty where it is none.
[[nodiscard]] std::string parse_problem(std::string_view json);

}  // namespace dryclock::cli
