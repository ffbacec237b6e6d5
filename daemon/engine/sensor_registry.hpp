// Which sensors there are: those of the configuration file and those that events set up, with what events
// said of them since. A function of the configuration and of the events that stand, in journal order; what it
// says holds for the rows that come after the event.
//
// The file wins: a name that stands in it cannot be set up or retired by an event, since whoever reads the
// file must be able to rely on it. Its corrections and checks are events all the same.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "domain/event.hpp"
#include "domain/refusal.hpp"
#include "domain/setup.hpp"
#include "domain/types.hpp"

namespace dryclock::engine {

// A forgotten check ends by itself.
inline constexpr Millis longest_check = std::chrono::hours{24};
// Out of the box a sensor still tells of the salt for a while; common practice, no source.
inline constexpr Millis after_check = std::chrono::minutes{30};

struct CheckRun {  // a sensor in its box, or lately
  Seq event = 0;
  models::Salt salt = models::Salt::sodium_chloride;
  Time since;
  Time until;  // of the readings that are not the bay's
  bool over = false;
};
struct CheckDone {
  Seq event = 0;
  Time at;
  SensorChecked result;
  bool current = true;  // no correction since: it can be paired with another salt's
};

struct SensorEntry {
  std::string name, bay, model, place;
  bool from_file = true;
  Time since{};  // set up; of the file: unknown
  double tolerance_pct = 2.0;
  std::vector<SensorMapping> mappings;
  std::optional<CheckRun> run;
  std::vector<CheckDone> checks;  // in journal order

  [[nodiscard]] const SensorMapping* mapping(Quantity quantity) const;
  // Whether what it says of that moment is of a salt's air.
  [[nodiscard]] bool in_box(Time at) const { return run && at >= run->since && at < run->until; }
  // The check that is still under way.
  [[nodiscard]] const CheckRun* checking(Time now) const {
    return run && !run->over && now < run->until ? &*run : nullptr;
  }
};

class SensorRegistry {
 public:
  explicit SensorRegistry(const Setup& setup);

  // New settings; call rebuild() after it.
  void follow(const Setup& setup);
  // Events of other kinds are possible.
  [[nodiscard]] Allowed possible(const Event& event) const;
  // From the events that concern the shop and stand, in journal order. What no longer makes sense, because
  // what it rests on was taken back, does nothing.
  void rebuild(const std::vector<Event>& standing);

  // How topics are read from the next row on: the file's first, in its order.
  [[nodiscard]] const std::vector<SensorMapping>& mappings() const { return mappings_; }
  [[nodiscard]] const std::vector<SensorEntry>& sensors() const { return sensors_; }
  [[nodiscard]] const SensorEntry* find(const std::string& name) const;
  // Another number after every rebuild().
  [[nodiscard]] std::uint64_t revision() const { return revision_; }

 private:
  void apply(const Event& event);
  [[nodiscard]] Allowed known(const std::string& name) const;

  std::vector<BaySetup> bays_;
  std::vector<SensorMapping> of_file_;
  std::vector<SensorAbout> about_;  // what the file says of its devices
  std::vector<SensorEntry> sensors_;
  std::vector<SensorMapping> mappings_;
  std::uint64_t revision_ = 0;
};

}  // namespace dryclock::engine
