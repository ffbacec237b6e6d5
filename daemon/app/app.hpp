// The composition root: starts the parts in order, connects them, stops them in the reverse order.
#pragma once

#include <memory>

#include "config/config.hpp"

namespace dryclock::app {

class App {
 public:
  explicit App(Config config);
  ~App();

  // Opens the database, replays the journal, serves, connects; returns when a signal asked it to stop, with
  // the process's exit code: 0, or 1 where it could not start (the log says why).
  [[nodiscard]] int run();

  struct Parts;  // app/parts.hpp

 private:
  std::unique_ptr<Parts> parts_;
};

}  // namespace dryclock::app
