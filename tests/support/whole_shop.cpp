#include "support/whole_shop.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <stdexcept>
#include <utility>

#include "config/load_config.hpp"
#include "support/free_port.hpp"

namespace dryclock::test {
namespace {

using std::chrono::minutes;

std::string settings(const WholeShopOptions& options) {
  return fmt::format(R"([site]
name = "Invented shop"
time_zone = "Europe/London"
language = "{}"
[store]
path = "dryclock.db"
ballast_mib = 0
[mqtt]
port = {}
[alerts]
quiet = "22:00-06:30"
[[bay]]
name = "front"
cold_below_c = 18.0
[[bay]]
name = "back"
[[sensor]]
name = "front-wall"
bay = "front"
topic = "sensors/front"
reads = [
  {{ quantity = "air-temperature", pointer = "/t", unit = "C" }},
  {{ quantity = "relative-humidity", pointer = "/h", unit = "%" }},
]
[[notify]]
name = "phone"
kind = "webhook"
url = "{}"
)",
                     options.language, options.broker == 0 ? free_port() : options.broker, options.phone);
}

Config config_of(const std::filesystem::path& folder, const WholeShopOptions& options) {
  std::ofstream{folder / "dryclock.toml"} << settings(options);
  return load_config(folder / "dryclock.toml", std::filesystem::path{DRYCLOCK_SOURCE_DIR} / "config");
}

}  // namespace

// The machine has been on since long before: a shop that is opened again is opened in the same boot.
WholeShop::WholeShop(const std::filesystem::path& folder, WholeShopOptions options)
    : booted_(parse_rfc3339("2026-01-01T00:00:00Z").value()), since_boot_(options.now - booted_) {
  parts_ = std::make_unique<app::App::Parts>(
      config_of(folder, options), app::MachineClocks{.look =
                                                         [this] {
                                                           return app::MachineClock{booted_, true, false};
                                                         },
                                                     .since_boot = [this] { return since_boot_.load(); }});
  parts_->serving = std::move(options.serving);
  parts_->serving.port = options.port;
  if (const auto started = parts_->start(); !started) {
    throw std::runtime_error(to_string(started.error()));
  }
  if (options.broker != 0) {
    turns_until([this] { return parts_->client->connected(); });
  }
}

WholeShop::~WholeShop() = default;

Time WholeShop::now() const {
  return booted_ + since_boot_.load();
}

void WholeShop::turns_until(const std::function<bool()>& holds) {
  const auto deadline = std::chrono::steady_clock::now() + minutes{1};
  while (!holds()) {
    if (std::chrono::steady_clock::now() > deadline) {
      throw std::runtime_error("waited in vain for the shop");
    }
    parts_->io.run_one_for(Millis{20});
  }
}

void WholeShop::looks_ahead() {
  turns_until([this] {
    const auto board = parts_->core.engine().board();
    return std::ranges::all_of(board.vehicles, [](const VehicleSummary& vehicle) {
      return vehicle.pieces.empty() || vehicle.release_ready || vehicle.release_expected.likely;
    });
  });
}

void WholeShop::outlooks_come() {
  bool answered = false;
  parts_->pool->submit([] { return 0; }, [&](const Result<int>& /*in its turn*/) { answered = true; });
  turns_until([&] { return answered; });
}

void WholeShop::take(RowKind kind, RawMessage message) {
  message.received_at = now();
  std::optional<Result<store::Appended>> taken;
  parts_->writer->append_async({kind, std::move(message), {}}, [&](const Result<store::Appended>& appended) {
    parts_->post([&, appended] { taken = appended; });
  });
  turns_until([&] { return taken.has_value(); });
  (void)taken->value();
}

void WholeShop::stays_until(Time t) {
  since_boot_ = t - booted_;
  take(RowKind::tick, {});
}

void WholeShop::hears(const std::string& topic, const std::string& payload) {
  take(RowKind::message, {topic, payload, {}, 1});
}

// Real air is never still: the values move by a tenth about those that are told, and end with them.
void WholeShop::airs_until(Time t, double air_c, double rh_pct) {
  constexpr minutes every{5};
  constexpr std::array<double, 4> unrest{0.0, 0.1, 0.0, -0.1};
  for (auto left = std::max((t - now()) / every - 1, 0L); left >= 0; --left) {
    const double off = unrest[static_cast<std::size_t>(left) % unrest.size()];
    const RawMessage message{"sensors/front",
                             fmt::format(R"({{"t":{:.1f},"h":{:.1f}}})", air_c + off, rh_pct + off),
                             t - left * every, 1};
    since_boot_ = message.received_at - booted_;
    if (left == 0) {
      take(RowKind::message, message);
      return outlooks_come();
    }
    if (message.received_at.time_since_epoch() % std::chrono::hours{6} == Millis{}) {
      take(RowKind::message, message);
      outlooks_come();  // what is ready is announced within these hours, however fast this machine is
      continue;
    }
    parts_->writer->append_async({RowKind::message, message, {}}, [](const Result<store::Appended>&) {});
  }
}

Seq WholeShop::does(const std::string& json) {
  std::optional<http::SubmitAnswer> answer;
  parts_->core.submit(json, now(), [&](const http::SubmitAnswer& given) { answer = given; });
  turns_until([&] { return answer.has_value(); });
  return answer->value().seq;
}

}  // namespace dryclock::test
