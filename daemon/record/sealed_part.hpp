// What shows that a record's rows are the sealed ones: copied out of the shop's seal.
#pragma once

#include <filesystem>

#include "record/record.hpp"

namespace dryclock::record {

// Fills checkpoint, key and sealed files from the seal's folder; the first checkpoint that covers the
// record's last row counts, so that the same record always carries the same. Where there is none, `unsealed`
// says why. Writes to a folder of its own below the system's for temporary files, and removes it.
void add_seal(Record& record, const std::filesystem::path& seal);

// Fills checkpoint and key alone, of the newest checkpoint, whether or not it covers the record: what a
// receipt carries. Where there is none, `unsealed` says why.
void add_newest_checkpoint(Record& record, const std::filesystem::path& seal);

}  // namespace dryclock::record
