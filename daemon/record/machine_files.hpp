// The record for machines: plain files, numbers by std::to_chars, times in UTC (RFC 3339).
#pragma once

#include <string>
#include <vector>

#include "record/record.hpp"

namespace dryclock::record {

// readings.csv, sensors.csv, events.ndjson, air.csv, water.csv, pieces.csv, disclosures.csv, parameters.json
// and README.txt, which tells their columns and units; then the sealed files. Without record.pdf and
// MANIFEST.
[[nodiscard]] std::vector<File> machine_files(const Record& record);

// "<SHA-256>  <name>" for each, as sha256sum -c reads it.
[[nodiscard]] File manifest(const std::vector<File>& files);

}  // namespace dryclock::record
