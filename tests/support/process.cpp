#include "support/process.hpp"

#include <fcntl.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <stdexcept>
#include <thread>
#include <utility>

namespace dryclock::test {

Process::Process(std::vector<std::string> arguments, const std::filesystem::path& output) {
  std::vector<char*> pointers;
  pointers.reserve(arguments.size() + 1);
  for (auto& argument : arguments) {
    pointers.push_back(argument.data());
  }
  pointers.push_back(nullptr);
  posix_spawn_file_actions_t files;
  posix_spawn_file_actions_init(&files);
  posix_spawn_file_actions_addopen(&files, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
  posix_spawn_file_actions_addopen(&files, STDOUT_FILENO, output.empty() ? "/dev/null" : output.c_str(),
                                   O_WRONLY | O_CREAT | O_APPEND, 0644);
  posix_spawn_file_actions_adddup2(&files, STDOUT_FILENO, STDERR_FILENO);
  const int error =
      ::posix_spawnp(&id_, arguments.front().c_str(), &files, nullptr, pointers.data(), environ);
  posix_spawn_file_actions_destroy(&files);
  if (error != 0) {
    throw std::runtime_error("cannot run " + arguments.front());
  }
}

Process::Process(Process&& other) noexcept : id_(std::exchange(other.id_, -1)), ended_(other.ended_) {}

Process::~Process() {
  if (id_ > 0 && !ended_) {
    signal(SIGKILL);
    ::waitpid(id_, nullptr, 0);
  }
}

void Process::signal(int number) const {
  ::kill(id_, number);
}

std::optional<int> Process::wait(std::chrono::milliseconds cap) {
  const auto deadline = std::chrono::steady_clock::now() + cap;
  while (!ended_) {
    int status = 0;
    if (::waitpid(id_, &status, WNOHANG) == id_) {
      ended_ = WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
    } else if (std::chrono::steady_clock::now() >= deadline) {
      break;
    } else {
      std::this_thread::sleep_for(std::chrono::milliseconds{5});
    }
  }
  return ended_;
}

void run_to_end(std::vector<std::string> arguments) {
  const std::string program = arguments.front();
  if (Process(std::move(arguments)).wait(std::chrono::seconds{60}) != 0) {
    throw std::runtime_error(program + " failed");
  }
}

}  // namespace dryclock::test
