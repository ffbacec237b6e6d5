#include "app/app.hpp"

#include "app/parts.hpp"
#include "base/log.hpp"

namespace dryclock::app {

App::App(Config config) : parts_(std::make_unique<Parts>(std::move(config))) {}

App::~App() = default;

int App::run() {
  if (const auto started = parts_->start(); !started) {
    log::error("cannot start: {}", to_string(started.error()));
    return 1;
  }
  parts_->io.run();
  log::info("stopped");
  return 0;
}

}  // namespace dryclock::app
