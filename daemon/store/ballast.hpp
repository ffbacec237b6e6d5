// A file that only takes up room. When the disk is full it is deleted, so that the journal can go on for long
// enough to tell a person.
#pragma once

#include <cstdint>
#include <filesystem>

namespace dryclock::store {

class Ballast {
 public:
  // Beside the database, "<path>.ballast". `bytes` 0: there is none, ever.
  Ballast(const std::filesystem::path& database, std::int64_t bytes);

  // Puts the file there where it is not and the disk has room for four of it. False: wanted, but not there.
  bool lay();
  // Frees its room. False: there was none.
  bool drop();

 private:
  std::filesystem::path path_;
  std::int64_t bytes_;
};

}  // namespace dryclock::store
