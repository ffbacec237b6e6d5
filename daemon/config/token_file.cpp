#include "config/token_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <optional>
#include <stdexcept>
#include <string_view>
#include <system_error>

#include "base/base64.hpp"

namespace dryclock {
namespace {

constexpr std::string_view read_only_word = "read-only ";
constexpr mode_t owner_alone = 0600;

Problem failed(const std::filesystem::path& file) {
  return {std::strerror(errno), file.string()};  // NOLINT(concurrency-mt-unsafe): nobody else runs meanwhile
}

// Closes, and with it lets go of the lock.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() {
    if (number_ >= 0) {
      ::close(number_);
    }
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

// Open and locked, or -1: the file that has this name by then, for another one takes its place where a device
// is withdrawn.
int open_locked(const std::filesystem::path& file, int flags) {
  for (;;) {
    const int descriptor = ::open(file.c_str(), flags | O_CLOEXEC, owner_alone);
    if (descriptor < 0) {
      return descriptor;
    }
    struct stat locked {};
    struct stat named {};
    if (::flock(descriptor, LOCK_EX) != 0 || ::fstat(descriptor, &locked) != 0) {
      const int why = errno;
      ::close(descriptor);
      errno = why;
      return -1;
    }
    if (::stat(file.c_str(), &named) == 0 && named.st_dev == locked.st_dev && named.st_ino == locked.st_ino) {
      return descriptor;
    }
    ::close(descriptor);
  }
}

bool write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const auto count = ::write(descriptor, text.data(), text.size());
    if (count < 0 && errno != EINTR) {
      return false;
    }
    text.remove_prefix(static_cast<std::size_t>(std::max<ssize_t>(count, 0)));
  }
  return ::fsync(descriptor) == 0;
}

// Absent: it cannot be read, and errno tells why.
std::optional<std::string> read_all(int descriptor) {
  std::string text;
  std::array<char, 4096> buffer{};
  for (;;) {
    const auto count = ::read(descriptor, buffer.data(), buffer.size());
    if (count < 0 && errno != EINTR) {
      return std::nullopt;
    }
    if (count == 0) {
      return text;
    }
    text.append(buffer.data(), static_cast<std::size_t>(std::max<ssize_t>(count, 0)));
  }
}

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const auto end = std::min(text.find('\n'), text.size());
    lines.emplace_back(text.substr(0, end));
    if (!lines.back().empty() && lines.back().back() == '\r') {
      lines.back().pop_back();
    }
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return lines;
}

// No token: an empty line, or a remark.
PairedDevice device_in(std::string_view line) {
  PairedDevice device;
  if (line.starts_with('#')) {
    return device;
  }
  device.read_only = line.starts_with(read_only_word);
  if (device.read_only) {
    line.remove_prefix(read_only_word.size());
  }
  const auto end = std::min(line.find(' '), line.size());
  device.token = line.substr(0, end);
  device.name = line.substr(std::min(end + 1, line.size()));
  return device;
}

// Root makes the file for a daemon that runs under another name.
bool give_to_owner_of(const std::filesystem::path& folder, int descriptor) {
  struct stat about {};
  return ::geteuid() != 0 ||
         (::stat(folder.c_str(), &about) == 0 && ::fchown(descriptor, about.st_uid, about.st_gid) == 0);
}

std::filesystem::path folder_of(const std::filesystem::path& file) {
  return file.has_parent_path() ? file.parent_path() : std::filesystem::path{"."};
}

// What was made or renamed in it is on disk then.
bool sync_folder(const std::filesystem::path& folder) {
  const Descriptor opened{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  return opened.number() >= 0 && ::fsync(opened.number()) == 0;
}

}  // namespace

Result<std::vector<PairedDevice>> read_tokens(const std::filesystem::path& file) {
  std::vector<PairedDevice> devices;
  const Descriptor opened{::open(file.c_str(), O_RDONLY | O_CLOEXEC)};
  if (opened.number() < 0) {
    if (errno == ENOENT) {
      return devices;
    }
    return failed(file);
  }
  const auto text = read_all(opened.number());
  if (!text) {
    return failed(file);
  }
  for (const auto& line : lines_of(*text)) {
    if (auto device = device_in(line); !device.token.empty()) {
      devices.push_back(std::move(device));
    }
  }
  return devices;
}

std::string fresh_token() {
  std::array<char, 32> bytes{};
  if (::getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size())) {
    throw std::runtime_error("the kernel gives no random bytes");
  }
  return base64url({bytes.data(), bytes.size()});
}

Result<void> add_token(const std::filesystem::path& file, const PairedDevice& device) {
  std::error_code told_by_opening;
  const bool fresh = !std::filesystem::exists(file, told_by_opening);
  const Descriptor opened{open_locked(file, O_RDWR | O_APPEND | O_CREAT)};
  if (opened.number() < 0 || ::fchmod(opened.number(), owner_alone) != 0 ||
      (fresh && !give_to_owner_of(folder_of(file), opened.number()))) {
    return failed(file);
  }
  const auto text = read_all(opened.number());
  if (!text) {
    return failed(file);
  }
  for (const auto& line : lines_of(*text)) {
    if (const auto known = device_in(line); !known.token.empty() && known.name == device.name) {
      return Problem{fmt::format("a device \"{}\" is paired already", device.name), file.string()};
    }
  }
  const bool unfinished = !text->empty() && text->back() != '\n';
  if (!write_all(opened.number(),
                 fmt::format("{}{}{} {}\n", unfinished ? "\n" : "", device.read_only ? read_only_word : "",
                             device.token, device.name)) ||
      (fresh && !sync_folder(folder_of(file)))) {
    return failed(file);
  }
  return {};
}

Result<void> withdraw_token(const std::filesystem::path& file, const std::string& name) {
  const Descriptor opened{open_locked(file, O_RDWR)};
  struct stat about {};
  if (opened.number() < 0 || ::fstat(opened.number(), &about) != 0) {
    return failed(file);
  }
  const auto text = read_all(opened.number());
  if (!text) {
    return failed(file);
  }
  std::string rest;
  bool found = false;
  for (const auto& line : lines_of(*text)) {
    const auto device = device_in(line);
    if (!device.token.empty() && device.name == name) {
      found = true;
    } else {
      rest += line + "\n";
    }
  }
  if (!found) {
    return Problem{fmt::format("no device \"{}\" is paired", name), file.string()};
  }
  // Another file in its place: whoever reads meanwhile has the old list or the new one, never half of it.
  const auto next = std::filesystem::path{file.string() + ".new"};
  std::error_code told_by_opening;
  std::filesystem::remove(next, told_by_opening);  // of an earlier try that did not get to its end
  const Descriptor written{::open(next.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, owner_alone)};
  if (written.number() < 0 ||
      (::geteuid() == 0 && ::fchown(written.number(), about.st_uid, about.st_gid) != 0) ||
      !write_all(written.number(), rest) || ::rename(next.c_str(), file.c_str()) != 0) {
    return failed(next);
  }
  if (!sync_folder(folder_of(file))) {
    return failed(file);
  }
  return {};
}

}  // namespace dryclock
