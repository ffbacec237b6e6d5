#include "seal/key_folder.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <stdexcept>
#include <system_error>
#include <vector>

#include "seal/checkpoint.hpp"
#include "seal/durable_file.hpp"

namespace dryclock::seal {

namespace fs = std::filesystem;

KeyFolder::KeyFolder(fs::path folder) : folder_(std::move(folder)) {
  if (!fs::is_directory(folder_)) {
    make_folder(folder_.parent_path());
    // Its owner's from the first moment: a kill cannot come between.
    if (::mkdir(folder_.c_str(), S_IRWXU) != 0) {
      throw fs::filesystem_error("cannot be made", folder_, std::error_code(errno, std::generic_category()));
    }
  }
  const auto others = fs::perms::group_all | fs::perms::others_all;
  if ((fs::status(folder_).permissions() & others) != fs::perms::none) {
    throw std::runtime_error(folder_.string() +
                             ": others can enter the folder of the private keys: chmod 700");
  }
}

fs::path KeyFolder::file(std::int64_t number) const {
  return folder_ / (padded(number) + ".pem");
}

bool KeyFolder::holds(std::int64_t number) const {
  return fs::exists(file(number));
}

SigningKey KeyFolder::load(std::int64_t number) const {
  auto pem = read_whole(file(number));
  auto key = SigningKey::from_pem(pem);
  wipe(pem);
  return key;
}

void KeyFolder::keep(std::int64_t number, const SigningKey& key) const {
  auto pem = key.private_pem();
  write_durably(file(number), pem, folder_ / "new", true);
  wipe(pem);
}

void KeyFolder::erase_all_but(std::int64_t number) const {
  std::vector<fs::path> old;
  for (const auto& entry : fs::directory_iterator(folder_)) {
    if (entry.is_regular_file() && entry.path() != file(number)) {
      old.push_back(entry.path());
    }
  }
  std::ranges::for_each(old, erase);
}

}  // namespace dryclock::seal
