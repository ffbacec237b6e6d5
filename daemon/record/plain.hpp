// Facts as files for machines tell them.
#pragma once

#include <string>

#include "base/local_time.hpp"
#include "domain/fact.hpp"
#include "wording/words.hpp"

namespace dryclock::record {

// In English and °C, and with the keys of enumerations and panels:
// the same whatever language and scale the pages are in.
class Plain {
 public:
  explicit Plain(const LocalZone& zone) : english_({}, {}, zone, wording::Dates::iso) {}

  [[nodiscard]] std::string operator()(const Fact& fact) const;

 private:
  wording::Words english_;
};

}  // namespace dryclock::record
