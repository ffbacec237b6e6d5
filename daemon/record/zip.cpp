#include "record/zip.hpp"

#include <zip.h>

#include <algorithm>
#include <memory>

namespace dryclock::record {
namespace {

struct DosTime {
  zip_uint16_t time = 0, date = 0;
};

// Of APPNOTE 4.4.6 (MS-DOS): given by us in UTC, for the library would take the machine's zone.
DosTime dos_time(Time at) {
  using namespace std::chrono;
  const auto day = floor<days>(at);
  const year_month_day date{day};
  const hh_mm_ss clock{floor<seconds>(at - day)};
  constexpr int first_year = 1980;
  const auto years = static_cast<unsigned>(std::max(0, static_cast<int>(date.year()) - first_year));
  return {static_cast<zip_uint16_t>(static_cast<unsigned>(clock.hours().count()) << 11U |
                                    static_cast<unsigned>(clock.minutes().count()) << 5U |
                                    static_cast<unsigned>(clock.seconds().count()) / 2U),
          static_cast<zip_uint16_t>(years << 9U | static_cast<unsigned>(date.month()) << 5U |
                                    static_cast<unsigned>(date.day()))};
}

Problem problem(const char* what) {
  return {std::string{"the archive cannot be made: "} + what, {}};
}

bool add(zip_t* archive, const File& file, const std::string& folder, DosTime at) {
  zip_source_t* source = zip_source_buffer(archive, file.bytes.data(), file.bytes.size(), 0);
  if (source == nullptr) {
    return false;
  }
  const auto index = zip_file_add(archive, (folder + "/" + file.name).c_str(), source, ZIP_FL_ENC_UTF_8);
  if (index < 0) {
    zip_source_free(source);
    return false;
  }
  const auto number = static_cast<zip_uint64_t>(index);
  constexpr unsigned regular_file = 0100644U << 16U;
  return zip_file_set_dostime(archive, number, at.time, at.date, 0) == 0 &&
         zip_set_file_compression(archive, number, ZIP_CM_DEFLATE, 9) == 0 &&
         zip_file_set_external_attributes(archive, number, 0, ZIP_OPSYS_UNIX, regular_file) == 0;
}

}  // namespace

Result<std::string> zipped(const std::vector<File>& files, const std::string& folder, Time at) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* memory = zip_source_buffer_create(nullptr, 0, 0, &error);
  if (memory == nullptr) {
    return problem(zip_error_strerror(&error));
  }
  const std::unique_ptr<zip_source_t, decltype(&zip_source_free)> held(memory, &zip_source_free);
  zip_source_keep(memory);  // the archive drops one reference when it is closed
  zip_t* archive = zip_open_from_source(memory, ZIP_TRUNCATE, &error);
  if (archive == nullptr) {
    zip_source_free(memory);
    return problem(zip_error_strerror(&error));
  }
  for (const auto& file : files) {
    if (!add(archive, file, folder, dos_time(at))) {
      const auto why = problem(zip_strerror(archive));
      zip_discard(archive);
      return why;
    }
  }
  if (zip_close(archive) != 0) {
    const auto why = problem(zip_strerror(archive));
    zip_discard(archive);
    return why;
  }
  zip_stat_t stat;
  std::string out;
  if (zip_source_open(memory) != 0 || zip_source_stat(memory, &stat) != 0) {
    return problem("it cannot be read back");
  }
  out.resize(stat.size);
  const auto read = zip_source_read(memory, out.data(), out.size());
  zip_source_close(memory);
  if (read != static_cast<zip_int64_t>(out.size())) {
    return problem("it cannot be read back");
  }
  return {boost::system::in_place_value, std::move(out)};
}

}  // namespace dryclock::record
