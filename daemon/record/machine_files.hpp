// The record for machines: plain files, numbers that read back the same, times in UTC (RFC 3339).
#pragma once

#include <string>
#include <vector>

#include "record/record.hpp"

namespace dryclock::record {

// README.txt, which tells of the others with their columns and units; plate and customer where they are kept;
// then the sealed files. Without record.pdf and MANIFEST.
[[nodiscard]] std::vector<File> machine_files(const Record& record);

// "<SHA-256>  <name>" for each, as sha256sum -c reads it.
[[nodiscard]] File manifest(const std::vector<File>& files);

}  // namespace dryclock::record
