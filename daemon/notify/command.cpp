#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <system_error>

#include "notify/channels.hpp"

namespace dryclock::notify {
namespace {

class File {
 public:
  explicit File(int number) : number_(number) {}
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  ~File() {
    if (number_ >= 0) {
      ::close(number_);
    }
  }
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

std::string reason(int error) {
  return std::generic_category().message(error);
}

// A file in memory rather than a pipe: a program that does not read it cannot hold us up.
bool fill(const File& file, std::string_view bytes) {
  while (!bytes.empty()) {
    const auto written = ::write(file.number(), bytes.data(), bytes.size());
    if (written <= 0) {
      return false;
    }
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return ::lseek(file.number(), 0, SEEK_SET) == 0;
}

std::vector<char*> pointers(std::vector<std::string>& strings) {
  std::vector<char*> list;
  list.reserve(strings.size() + 1);
  for (auto& text : strings) {
    list.push_back(text.data());
  }
  list.push_back(nullptr);
  return list;
}

// 0, or an error number. The child leads a process group of its own, so that all of it can be killed.
int spawn(std::vector<std::string> arguments, const std::string& topic, const File& input, pid_t& child) {
  std::vector<std::string> environment;
  for (char** variable = environ; *variable != nullptr; ++variable) {
    environment.emplace_back(*variable);
  }
  environment.push_back("DRYCLOCK_TOPIC=" + topic);

  posix_spawn_file_actions_t files;
  posix_spawn_file_actions_init(&files);
  posix_spawn_file_actions_adddup2(&files, input.number(), STDIN_FILENO);
  posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawnattr_t attributes;
  posix_spawnattr_init(&attributes);
  sigset_t none;
  sigset_t defaults;
  sigemptyset(&none);
  sigemptyset(&defaults);
  sigaddset(&defaults, SIGPIPE);
  posix_spawnattr_setsigmask(&attributes, &none);
  posix_spawnattr_setsigdefault(&attributes, &defaults);
  posix_spawnattr_setpgroup(&attributes, 0);
  posix_spawnattr_setflags(&attributes,
                           POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF);
  const int error = ::posix_spawnp(&child, arguments.front().c_str(), &files, &attributes,
                                   pointers(arguments).data(), pointers(environment).data());
  posix_spawnattr_destroy(&attributes);
  posix_spawn_file_actions_destroy(&files);
  return error;
}

// False: it has not ended by then. A signal that reaches this thread does not cut the wait short.
bool ends_within(const File& child, Millis time_out) {
  using Steady = std::chrono::steady_clock;
  const auto end = Steady::now() + time_out;
  pollfd ended{.fd = child.number(), .events = POLLIN, .revents = 0};
  while (true) {
    const auto left = std::max(Millis{0}, std::chrono::ceil<Millis>(end - Steady::now()));
    const int ready = ::poll(&ended, 1, static_cast<int>(left.count()));
    if (ready >= 0 || errno != EINTR) {
      return ready == 1;
    }
  }
}

Result<void> run(const Command& settings, const Outgoing& message) {
  const auto problem = [&](std::string what) { return Problem{std::move(what), settings.arguments.front()}; };
  const File input(::memfd_create("message", MFD_CLOEXEC));
  if (!fill(input, message.payload)) {
    return problem("no room for its input: " + reason(errno));
  }
  pid_t child = 0;
  if (const int error = spawn(settings.arguments, message.topic, input, child); error != 0) {
    return problem(reason(error));
  }
  // By number: the C library's own header for it cannot be used from C++ (glibc 2.36).
  const File handle(static_cast<int>(::syscall(SYS_pidfd_open, child, 0)));
  const bool in_time = ends_within(handle, settings.time_out);
  if (!in_time) {
    ::kill(-child, SIGKILL);
  }
  int status = 0;
  while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  if (!in_time) {
    return problem("it took too long and was killed");
  }
  if (WIFSIGNALED(status)) {
    return problem("it was ended by signal " + std::to_string(WTERMSIG(status)));
  }
  if (WEXITSTATUS(status) != 0) {
    return problem("it ended with " + std::to_string(WEXITSTATUS(status)));
  }
  return {};
}

}  // namespace

Deliver make_deliver(Command settings) {
  return [settings = std::move(settings)](const Outgoing& message) { return run(settings, message); };
}

}  // namespace dryclock::notify
