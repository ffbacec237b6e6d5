// Refusals that events of vehicles, of sensors and of tests share.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "domain/event.hpp"
#include "domain/refusal.hpp"
#include "domain/setup.hpp"

namespace dryclock::engine {

// A name that somebody gave, or a key: for lists of what there is.
[[nodiscard]] Fact name_fact(const std::string& name);

[[nodiscard]] Value numbered(std::string_view name, std::int64_t number);

// Whether it can be laid now.
template <class Entry>
[[nodiscard]] bool offered(const Entry* entry) {
  return entry != nullptr && !entry->gone;
}
// The keys of what can.
template <class Entries>
[[nodiscard]] Value known_keys(const Entries& entries) {
  std::vector<Fact> keys;
  for (const auto& entry : entries) {
    if (!entry.gone) {
      keys.push_back(name_fact(entry.key));
    }
  }
  return say::facts("known", std::move(keys));
}

[[nodiscard]] Refusal no_film(const Catalogue& catalogue, const std::string& key);
// Whether there is such a film, or solution; no key stands for the first.
[[nodiscard]] Allowed known_film(const Catalogue& catalogue, const std::string& key);
[[nodiscard]] Allowed known_solution(const Catalogue& catalogue, const std::string& key);

// Whether the event happened at `earliest` or later; `whose` names what was there from then on.
[[nodiscard]] Allowed not_before(Time earliest, const Event& event, const char* key, Value whose);

// Whether there is such a bay; `outdoors`: `outside` counts as one.
[[nodiscard]] Allowed known_bay(const std::vector<BaySetup>& bays, const std::string& name, bool outdoors);

}  // namespace dryclock::engine
