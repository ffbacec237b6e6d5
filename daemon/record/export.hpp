// The whole record as one archive.
#pragma once

#include <string>

#include "base/result.hpp"
#include "record/paper.hpp"
#include "record/record.hpp"

namespace dryclock::record {

// Name of a file or folder made from the reference: letters, digits, "-" and "_" stay, all else becomes "-";
// cut after 100 characters, for file systems do not take more than 255.
[[nodiscard]] std::string file_stem(const Record& record);

// machine_files() with record.pdf and MANIFEST, in a folder of their own. The same record gives the same
// bytes.
[[nodiscard]] Result<std::string> zip(const Record& record, Paper paper);

}  // namespace dryclock::record
