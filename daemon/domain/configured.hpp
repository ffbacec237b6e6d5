// What a `configured` row says: the settings under which the rows that follow it are read.
#pragma once

#include <string>
#include <vector>

#include "domain/setup.hpp"

namespace dryclock {

// An event that the program of its time did not apply.
struct RefusedRow {
  Seq row = 0;
  std::string why;
};

struct Configured {
  std::string program;          // its version: the models' too
  std::string settings_sha256;  // of the settings' text, as the row has it
  // No row before this one tells settings: these are taken to have held for them as well.
  bool assumed = false;
  std::vector<RefusedRow> refused;  // with `assumed`: events among the rows before it
  Setup setup;
};

}  // namespace dryclock
