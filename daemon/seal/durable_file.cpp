#include "seal/durable_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <system_error>

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const char* what, const fs::path& path) {
  throw fs::filesystem_error(what, path, std::error_code(errno, std::generic_category()));
}

class Descriptor {
 public:
  Descriptor(const fs::path& path, int flags, mode_t mode = 0)
      : path_(path), number_(::open(path.c_str(), flags | O_CLOEXEC, mode)) {
    if (number_ < 0) {
      fail("cannot be opened", path);
    }
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() { ::close(number_); }

  void write(std::string_view bytes) const {
    while (!bytes.empty()) {
      const ssize_t written = ::write(number_, bytes.data(), bytes.size());
      if (written < 0 && errno != EINTR) {
        fail("cannot be written", path_);
      }
      bytes.remove_prefix(written < 0 ? 0 : static_cast<std::size_t>(written));
    }
  }
  [[nodiscard]] std::string read_all() const {
    std::string bytes;
    std::array<char, 65536> part{};
    while (true) {
      const ssize_t size = ::read(number_, part.data(), part.size());
      if (size == 0) {
        return bytes;
      }
      if (size < 0 && errno != EINTR) {
        fail("cannot be read", path_);
      }
      bytes.append(part.data(), size < 0 ? 0 : static_cast<std::size_t>(size));
    }
  }
  void sync() const {
    if (::fsync(number_) != 0) {
      fail("does not reach the disk", path_);
    }
  }

 private:
  const fs::path& path_;
  int number_;
};

void sync_folder(const fs::path& folder) {
  Descriptor(folder, O_RDONLY | O_DIRECTORY).sync();
}

}  // namespace

std::optional<std::string> read_if_there(const fs::path& file) {
  if (!fs::exists(file)) {
    return std::nullopt;
  }
  return Descriptor(file, O_RDONLY).read_all();
}

std::string read_whole(const fs::path& file) {
  auto bytes = read_if_there(file);
  if (!bytes) {
    errno = ENOENT;
    fail("cannot be read", file);
  }
  return std::move(*bytes);
}

void write_durably(const fs::path& file, std::string_view bytes, const fs::path& temporary, bool secret) {
  fs::remove(temporary);  // of an earlier try: its mode would stay
  {
    const Descriptor out(temporary, O_WRONLY | O_CREAT | O_EXCL,
                         secret ? S_IRUSR | S_IWUSR : S_IRUSR | S_IWUSR | S_IRGRP);
    out.write(bytes);
    out.sync();
  }
  fs::rename(temporary, file);
  sync_folder(file.parent_path());
}

void make_folder(const fs::path& folder) {
  if (folder.empty() || fs::is_directory(folder)) {
    return;
  }
  make_folder(folder.parent_path());
  fs::create_directory(folder);
  sync_folder(folder.has_parent_path() ? folder.parent_path() : fs::path("."));
}

void erase(const fs::path& file) {
  const auto size = fs::file_size(file);
  {
    const Descriptor out(file, O_WRONLY);
    out.write(std::string(size, '\0'));
    out.sync();
  }
  fs::remove(file);
  sync_folder(file.parent_path());
}

}  // namespace dryclock::seal
