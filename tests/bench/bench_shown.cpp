// What keeping what was shown takes, and saying it: rows and bytes of `shown` rows against those of the
// sensors, in a shop with 60 open pieces over four days: six vehicles in three bays, each bay with a sensor
// of the air and a probe on a panel, a message each every 45 s, with battery and link as such radios send
// them. The share of the same messages without these is told beside it.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/json/parse.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "compute/outlook.hpp"
#include "stopwatch.hpp"
#include "support/core_shop.hpp"
#include "support/small_shop.hpp"
#include "wire/answer_json.hpp"
#include "wording/spoken.hpp"

using namespace dryclock;
using namespace std::chrono_literals;
using bench::figure;

namespace {

constexpr int vehicles = 6, pieces_each = 10, days = 4;
constexpr auto every = 45s;
const Time morning = parse_rfc3339("2026-03-02T07:00:00Z").value();

constexpr std::array bay_names{"front", "back", "side"};

Setup shop_of_three_bays() {
  Setup setup = support::small_shop();
  setup.bays.push_back({"side", 15.0, 70.0, {}});
  setup.mappings.clear();
  for (const auto& bay : setup.bays) {
    const auto add = [&](const std::string& device, Quantity quantity, const char* pointer, Unit unit) {
      SensorMapping mapping;
      mapping.sensor = bay.name + "-" + device;
      mapping.bay = bay.name;
      mapping.topic = "sensors/" + mapping.sensor;
      mapping.quantity = quantity;
      mapping.pointer = pointer;
      mapping.unit = unit;
      setup.mappings.push_back(mapping);
    };
    add("air", Quantity::air_temperature, "/temperature", Unit::celsius);
    add("air", Quantity::relative_humidity, "/humidity", Unit::percent);
    add("panel", Quantity::panel_temperature, "/temperature", Unit::celsius);
  }
  return setup;
}

// An outlook costs a second or so: only the last one before each hour, which the hour's row tells, is asked
// for.
OutlookAnswer answer(const OutlookTask& task) {
  const auto past = task.now.time_since_epoch() % std::chrono::hours{1};
  return past >= 50min ? compute::answer(task) : OutlookAnswer{};  // of no vehicle: it is dropped
}

// The same message from a device that tells its values and nothing else.
std::string bare(const std::string& payload) {
  const auto values = boost::json::parse(payload).as_object();
  std::string out = "{";
  for (const char* name : {"temperature", "humidity"}) {
    if (const auto* value = values.if_contains(name)) {
      out += fmt::format("{}\"{}\":{:.2f}", out == "{" ? "" : ",", name, value->to_number<double>());
    }
  }
  return out + "}";
}

class Days {
 public:
  void run() {
    for (Time t = morning; t < morning + std::chrono::days{days}; t += every) {
      air(t);
      work(t);
      deliver();
    }
  }

  void tell() const {
    std::int64_t rows = 0, bytes = 0, sensor_rows = 0, sensor_bytes = 0, bare_bytes = 0;
    for (const auto& row : shop_.rows()) {
      const auto size = static_cast<std::int64_t>(row.message.topic.size() + row.message.payload.size());
      if (row.kind == RowKind::shown) {
        ++rows;
        bytes += size;
      } else if (row.kind == RowKind::message) {
        ++sensor_rows;
        sensor_bytes += size;
        bare_bytes += static_cast<std::int64_t>(row.message.topic.size() + bare(row.message.payload).size());
      }
    }
    figure("shown_rows_share", static_cast<double>(bytes) / static_cast<double>(sensor_bytes), "ratio");
    figure("shown_rows_share_bare", static_cast<double>(bytes) / static_cast<double>(bare_bytes), "ratio");
    figure("shown_rows_count_share", static_cast<double>(rows) / static_cast<double>(sensor_rows), "ratio");
  }

  [[nodiscard]] support::CoreShop& shop() { return shop_; }

 private:
  void air(Time t) {
    const double day = 2.0 * 3.14159265358979 * seconds_between(morning, t) / 86'400.0;
    const double air_c = 20.5 + 2.0 * std::sin(day) + 0.1 * std::sin(317.0 * day);
    const double rh_pct = 52.0 - 7.0 * std::sin(day) + 1.0 * std::sin(211.0 * day);
    for (const char* bay : bay_names) {
      shop_.hears(
          t, fmt::format("sensors/{}-air", bay),
          fmt::format(
              R"({{"battery":100,"humidity":{:.2f},"linkquality":120,"temperature":{:.2f},"voltage":3000}})",
              rh_pct, air_c));
      shop_.hears(t, fmt::format("sensors/{}-panel", bay),
                  fmt::format(R"({{"battery":100,"linkquality":120,"temperature":{:.2f},"voltage":3000}})",
                              air_c - 0.7));
    }
  }

  // Each at its time, one after the other: laid on the first day, then wrapped, looked at, trimmed, refitted.
  void work(Time t) {
    const auto due = [&](std::size_t i, Millis after) {
      const Time at = morning + 30min + after + static_cast<int>(i) * 8min;
      return at <= t && t < at + every;
    };
    for (std::size_t i = 0; i < std::size_t{vehicles} * pieces_each; ++i) {
      if (due(i, 0min)) {
        if (i % pieces_each == 0) {
          VehicleIn arrival;
          arrival.reference = fmt::format("van-{}", i);
          arrival.bay = bay_names[i / pieces_each % bay_names.size()];
          arrival.hand_over = morning + std::chrono::hours{24 * 3 + 10};
          vehicle_ = shop_.does(t, arrival);
        }
        pieces_.push_back(shop_.does(t, lay(i)));
      } else if (due(i, 22h)) {
        shop_.does(t, EdgeWrapped{pieces_[i]});
      } else if (due(i, 23h)) {
        shop_.does(t, Inspected{pieces_[i], models::ZoneKind::field, models::Finding::clear});
      } else if (due(i, 26h)) {
        shop_.does(t, Trimmed{pieces_[i]});
      } else if (due(i, 47h)) {
        shop_.does(t, Refitted{pieces_[i]});
      }
    }
  }

  [[nodiscard]] Lay lay(std::size_t i) const {
    using models::ZoneKind;
    Lay lay;
    lay.vehicle = vehicle_;
    lay.panel = fmt::format("panel {}", i % pieces_each);
    lay.film = "baseline";
    lay.solution = "slip";
    lay.zones = {ZoneKind::field, ZoneKind::edge};
    if (i % 2 == 0) {
      lay.zones.push_back(ZoneKind::recess);
    }
    return lay;
  }

  // Every alert that is raised goes to one channel.
  void deliver() {
    for (; delivered_ < shop_.effects().size(); ++delivered_) {
      const auto alerts = shop_.effects()[delivered_].alerts;
      for (const auto& [step, alert] : alerts) {
        if (step == AlertStep::raised) {
          const auto payload = fmt::format(R"({{"id":"{}","rule":"{}","subject":"{}"}})", alert.id,
                                           name_of(alert.rule), alert.subject);
          shop_.core().settled({"phone", alert.what.words, payload, false},
                               {1, OutboxStep::delivered, {}, {}});
        }
      }
    }
  }

  support::CoreShop shop_{shop_of_three_bays(), answer};
  VehicleId vehicle_ = 0;
  std::vector<PieceId> pieces_;
  std::size_t delivered_ = 0;
};

// What putting words to the facts of a board takes, beside writing it as JSON: both are done for each answer.
void words_of_a_board(const app::Core& core) {
  const Board board = core.engine().board();
  std::size_t bytes = 0;
  const double words =
      bench::seconds_of([&] { bytes += wording::spoken(board, core.words()).vehicles.size(); });
  const Board spoken = core.board();
  const double json = bench::seconds_of([&] { bytes += wire::to_json(spoken).size(); });
  figure("board_in_words", words * 1e3, "ms");
  figure("board_as_json", json * 1e3, "ms");
  figure("board_words_per_json", words / json, "1");
  fmt::print(stderr, "{} bytes\n", bytes);
}

}  // namespace

// A second argument: every shown row is printed, to see what they are made of.
int main(int argc, char** argv) {
  const std::string only = argc > 1 ? argv[1] : "";
  if (!only.empty() && only != "shown_rows_share" && only != "board_in_words") {
    return 0;
  }
  Days shop;
  shop.run();
  shop.tell();
  words_of_a_board(shop.shop().core());
  for (const auto& row : shop.shop().rows()) {
    if (argc > 2 && row.kind == RowKind::shown) {
      fmt::print("{} {}\n", row.message.topic, row.message.payload);
    }
  }
}
