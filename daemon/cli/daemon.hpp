// The daemon as the client sees it: an address, and answers as JSON text.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "domain/event.hpp"

namespace dryclock::cli {

// Not thread-safe. Every call throws Failure: no_daemon when nothing answers, refused (as Refused) with the
// daemon's reason.
class Daemon {
 public:
  // `url` like "http://127.0.0.1:8077"; `token` empty: none.
  Daemon(std::string url, std::string token);

  using Query = std::vector<std::pair<std::string, std::string>>;
  // The answer's body. `path` below the address, its parts escaped already (see escaped).
  [[nodiscard]] std::string get(const std::string& path, const Query& query = {}) const;
  // `body` is JSON.
  [[nodiscard]] std::string post(const std::string& path, const std::string& body) const;
  // The health report comes with 503 where something is wrong, which is no refusal.
  [[nodiscard]] std::string health() const;
  // An action of the daemon's that takes no body, such as a test of a channel; waits as long as a mail server
  // may.
  [[nodiscard]] std::string post(const std::string& path) const;
  // Sends an event, once more when the answer got lost, and for a few seconds where the daemon cannot take it
  // now: the event's key keeps it from being taken twice.
  // Plate and customer go with an arrival; empty: none.
  [[nodiscard]] std::string submit(const Event& event, const std::string& plate = {},
                                   const std::string& customer = {}) const;

  // A text as one part of a path: RFC 3986 section 2.1.
  [[nodiscard]] static std::string escaped(std::string_view part);

 private:
  struct Answer {
    long status = 0;
    std::string body;
    std::string no_answer;  // why there is none
  };
  [[nodiscard]] Answer exchange(const std::string& path, const std::string* body) const;
  [[nodiscard]] std::string checked(const Answer& answer) const;

  std::string url_, token_;
};

}  // namespace dryclock::cli
