#include "app/voice.hpp"

namespace dryclock::app {

wording::Words words_for(const Config& config) {
  return words_for(config, config.setup.site.manner);
}

wording::Words words_for(const Config& config, Manner manner) {
  return {manner, wording::entries_of(config.setup.catalogue),
          LocalZone::find(config.setup.site.time_zone).value()};  // the configuration was checked
}

std::string for_log(const Fact& fact) {
  return wording::Words{{}, {}, LocalZone::find("UTC").value()}.fact(fact);
}

}  // namespace dryclock::app
