#include "record/sealed_part.hpp"

#include <cstdlib>

#include <algorithm>
#include <cerrno>
#include <system_error>

#include "base/sha256.hpp"
#include "seal/chain_writer.hpp"
#include "seal/durable_file.hpp"
#include "seal/extract.hpp"

namespace dryclock::record {
namespace {

namespace fs = std::filesystem;

class TemporaryFolder {
 public:
  // Throws fs::filesystem_error.
  TemporaryFolder() {
    std::string name = (fs::temp_directory_path() / "dryclock-record-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) {
      throw fs::filesystem_error("cannot be made", name, std::error_code(errno, std::generic_category()));
    }
    path_ = name;
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

// The first checkpoint that covers the row; 0: none does.
std::int64_t covering(const fs::path& seal, Seq row) {
  std::vector<std::int64_t> numbers;
  for (const auto& entry : fs::directory_iterator(seal / "checkpoints")) {
    if (const auto number = seal::number_of_list(entry.path().filename().string())) {
      numbers.push_back(*number);
    }
  }
  std::ranges::sort(numbers);
  const auto found = std::ranges::partition_point(numbers, [&](std::int64_t number) {
    const auto about = seal::parse_about(seal::read_whole(seal / seal::about_name(number)));
    return !about || about.value().rows.last < row;
  });
  return found == numbers.end() ? 0 : *found;
}

Fact unreadable(std::string problem) {
  return {"record.unsealed-problem", {say::text("problem", std::move(problem))}};
}

void carry(Record& record, const seal::Sealed& sealed, const std::string& key_sha256) {
  record.checkpoint = sealed.sha256;
  record.checkpoint_name = sealed.name;
  record.checkpoint_number = sealed.number;
  record.checkpoint_at = sealed.at;
  record.key_sha256 = key_sha256;
  record.unsealed = {};
}

}  // namespace

void add_seal(Record& record, const fs::path& seal) {
  try {
    const auto through = covering(seal, record.last_row);
    if (through == 0) {
      record.unsealed = {"record.unsealed-rows"};
      return;
    }
    seal::Wanted wanted{{seal::vehicle_stream(record.vehicle), seal::daemon_stream()},
                        {record.first_row, record.last_row},
                        through};
    for (const auto& topic : record.topics) {
      wanted.streams.push_back(seal::topic_stream(topic));
    }
    const TemporaryFolder folder;
    const auto copied = seal::extract(seal, folder.path(), wanted);
    if (!copied) {
      record.unsealed = unreadable(to_string(copied.error()));
      return;
    }
    for (const auto& entry : fs::recursive_directory_iterator(folder.path())) {
      if (entry.is_regular_file()) {
        record.sealed.push_back({"sealed/" + fs::relative(entry.path(), folder.path()).generic_string(),
                                 seal::read_whole(entry.path())});
      }
    }
    std::ranges::sort(record.sealed, {}, &File::name);
    carry(record, copied->last, copied->key_sha256);
  } catch (const fs::filesystem_error& error) {
    record.unsealed = unreadable(error.what());
  }
}

void add_newest_checkpoint(Record& record, const fs::path& seal) {
  const auto last = seal::last_sealed(seal);
  if (!last || !*last) {
    record.unsealed = last ? Fact{"record.unsealed-yet"} : unreadable(to_string(last.error()));
    return;
  }
  try {
    carry(record, **last, sha256_hex(seal::read_whole(seal / seal::key_name(1))));
  } catch (const fs::filesystem_error& error) {
    record.unsealed = unreadable(error.what());
  }
}

}  // namespace dryclock::record
