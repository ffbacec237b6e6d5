#include "record/export.hpp"

#include <algorithm>

#include "record/machine_files.hpp"
#include "record/pdf.hpp"
#include "record/zip.hpp"

namespace dryclock::record {

std::string file_stem(const Record& record) {
  std::string stem = "record-" + std::to_string(record.vehicle) + "-" + record.reference;
  for (char& c : stem) {
    const bool plain =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
    c = plain ? c : '-';
  }
  constexpr std::size_t longest = 100;
  return stem.substr(0, longest);
}

Result<std::string> zip(const Record& record, Paper paper) {
  auto files = machine_files(record);
  auto people = pdf(record, paper);
  if (!people) {
    return people.error();
  }
  files.push_back({"record.pdf", std::move(*people)});
  std::ranges::sort(files, {}, &File::name);
  files.push_back(manifest(files));
  return zipped(files, file_stem(record), record.as_of);
}

}  // namespace dryclock::record
