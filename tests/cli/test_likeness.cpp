#include "cli/likeness.hpp"

#include <doctest/doctest.h>

using namespace dryclock::cli;

TEST_CASE("words in any order, whole or begun; each is one of the naming's") {
  const Naming naming{{"front", "door"}, {"left", "front", "1"}};
  const auto how = [&](const char* typed) { return fit(name_words(typed), naming); };
  CHECK(how("front door") == Fit::exact);
  CHECK(how("Door-Front left") == Fit::exact);
  CHECK(how("fr do") == Fit::begun);
  CHECK(how("door") == Fit::part);
  CHECK(how("front front door") == Fit::exact);
  CHECK(how("door door") == std::nullopt);
  CHECK(how("rear door") == std::nullopt);
  CHECK(how("") == std::nullopt);
}

TEST_CASE("the better fit alone counts") {
  const std::vector<std::string> panels{"bonnet", "bonnet front", "boot"};
  const auto best = [&](const char* name) {
    return best_fits(name, panels, [](const std::string& panel) {
      return std::vector{Naming{name_words(panel), {}}};
    });
  };
  using All = std::vector<std::string>;
  CHECK(best("bonnet") == All{"bonnet"});
  CHECK(best("bonnet f") == All{"bonnet front"});
  CHECK(best("bon") == All{"bonnet"});
  CHECK(best("bo") == All{"bonnet", "boot"});
  CHECK(best("front") == All{"bonnet front"});
  CHECK(best("wing").empty());
}
