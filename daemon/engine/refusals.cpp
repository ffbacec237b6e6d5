#include "engine/refusals.hpp"

#include "engine/piece_spec.hpp"
#include "engine/vehicle_plan.hpp"

namespace dryclock::engine {

Fact name_fact(const std::string& name) {
  return {"refusals.name", {say::text("name", name)}};
}

Value numbered(std::string_view name, std::int64_t number) {
  return say::text(name, std::to_string(number));
}

Refusal no_film(const Catalogue& catalogue, const std::string& key) {
  return {{"refusals.no-film", {say::text("film", key), known_keys(catalogue.films)}}, "/film"};
}

Allowed known_film(const Catalogue& catalogue, const std::string& key) {
  return offered(find_film(catalogue, key)) ? Allowed{} : Allowed{no_film(catalogue, key)};
}

Allowed known_solution(const Catalogue& catalogue, const std::string& key) {
  if (offered(find_solution(catalogue, key))) {
    return {};
  }
  return Refusal{{"refusals.no-solution", {say::text("solution", key), known_keys(catalogue.solutions)}},
                 "/solution"};
}

Allowed not_before(Time earliest, const Event& event, const char* key, Value whose) {
  if (event.at < earliest) {
    return Refusal{{key, {std::move(whose), say::time("at", earliest)}}, "/at"};
  }
  return {};
}

Allowed known_bay(const std::vector<BaySetup>& bays, const std::string& name, bool outdoors) {
  if (outdoors && name == outside) {
    return {};
  }
  std::vector<Fact> known;
  if (outdoors) {
    known.push_back({"refusals.outside"});
  }
  for (const auto& bay : bays) {
    if (bay.gone) {
      continue;
    }
    if (bay.name == name) {
      return {};
    }
    known.push_back(name_fact(bay.name));
  }
  return Refusal{{"refusals.no-bay", {say::text("bay", name), say::facts("known", std::move(known))}},
                 "/bay"};
}

}  // namespace dryclock::engine
