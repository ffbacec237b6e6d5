// The whole daemon in this process: its own wiring, store, engine and server, with clocks that a test moves.
// It belongs to the thread that made it.
#pragma once

#include <atomic>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>

#include "app/parts.hpp"

namespace dryclock::test {

struct WholeShopOptions {
  Time now;
  std::string language = "en-GB";
  std::uint16_t broker = 0;                    // its port; 0: there is none
  std::string phone = "http://127.0.0.1:9/p";  // where the channel "phone" sends to: nobody listens there
  std::uint16_t port = 0;                      // of the server; 0: any free one
  http::Options serving{};                     // the rest counts, but for the tokens
};

class WholeShop {
 public:
  // Opens the shop whose database is in `folder`, which need not be there yet. Bays "front", where
  // "front-wall" sends {"t":..,"h":..} on sensors/front and less than 18 C is cold, and "back", where nothing
  // hangs; the catalogues that are shipped. Throws std::runtime_error where the daemon does not start.
  WholeShop(const std::filesystem::path& folder, WholeShopOptions options);
  ~WholeShop();
  WholeShop(const WholeShop&) = delete;
  WholeShop& operator=(const WholeShop&) = delete;

  [[nodiscard]] app::App::Parts& parts() { return *parts_; }
  [[nodiscard]] Time now() const;

  // What is waiting is done, or the next thing that comes.
  void turns() { parts_->io.run_one(); }
  // Until it holds; throws std::runtime_error where it does not for a minute.
  void turns_until(const std::function<bool()>& holds);
  // Until each vehicle that has film on it has its outlook.
  void looks_ahead();

  // Nobody says anything until then.
  void stays_until(Time t);
  // The sensor of `front` sends this every five minutes until then, give or take a tenth.
  void airs_until(Time t, double air_c, double rh_pct);
  // One message, now.
  void hears(const std::string& topic, const std::string& payload);
  // The event's row. Throws std::runtime_error with the reason where it is refused.
  Seq does(const std::string& json);

 private:
  void take(RowKind kind, RawMessage message);
  // Until those that were asked for are there.
  void outlooks_come();

  Time booted_;
  std::atomic<Millis> since_boot_;
  std::unique_ptr<app::App::Parts> parts_;
};

}  // namespace dryclock::test
