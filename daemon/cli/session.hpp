// One run of the client: what was given for all commands, and what was asked of the daemon so far.
#pragma once

#include <optional>
#include <string>

#include "base/local_time.hpp"
#include "cli/daemon.hpp"
#include "domain/answers.hpp"
#include "wording/words.hpp"

namespace dryclock::cli {

struct Globals {
  std::string url, token;
  bool json = false;
  std::string at, who, note;
  std::string zone;                  // IANA; empty: the shop's
  std::optional<Language> language;  // absent: the shop's
  std::string config_dir;
};

class Session {
 public:
  explicit Session(Globals globals) : globals_(std::move(globals)), daemon_(globals_.url, globals_.token) {}

  [[nodiscard]] const Globals& globals() const { return globals_; }
  [[nodiscard]] const Daemon& daemon() const { return daemon_; }
  // Asked of the daemon once.
  [[nodiscard]] const Board& board();
  [[nodiscard]] const CatalogueView& shop();
  // --zone, else the shop's.
  [[nodiscard]] LocalZone zone();
  // What is printed for people: --language, else the shop's; panels in the shop's words.
  [[nodiscard]] const wording::Words& words();
  // By which panels and pieces are named and looked for: they need no zone.
  [[nodiscard]] const wording::Words& names();
  // A message of words().
  [[nodiscard]] std::string say(std::string_view key, const std::vector<Value>& values = {}) {
    return words().say(key, values);
  }
  // The same where no daemon is asked: --language, else English (UK).
  [[nodiscard]] wording::Words words_alone(TemperatureScale scale = TemperatureScale::celsius) const;
  // What a person means by a local time, on the daemon's day (it may replay an old night); `option` stands in
  // the message.
  [[nodiscard]] Time time(const std::string& text, const std::string& option);
  void set_note(std::string note) { globals_.note = std::move(note); }
  // An event with the common fields filled: when (--at, else the daemon's now), who, note and a fresh key.
  [[nodiscard]] Event event(EventDetail detail);
  // Daemon::submit; what the daemon refuses is said in words(), but with --json, which makes none.
  [[nodiscard]] std::string submit(const Event& event, const std::string& plate = {},
                                   const std::string& customer = {});

 private:
  Globals globals_;
  Daemon daemon_;
  std::optional<Board> board_;
  std::optional<CatalogueView> shop_;
  [[nodiscard]] wording::Words words_in(LocalZone zone);
  std::optional<wording::Words> words_, names_;
};

}  // namespace dryclock::cli
