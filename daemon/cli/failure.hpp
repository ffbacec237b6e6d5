// What ends a command: a message, and the exit code that scripts go by.
#pragma once

#include <stdexcept>
#include <string>

#include "domain/answers.hpp"

namespace dryclock::cli {

enum class ExitCode : int {
  ok = 0,
  refused = 1,    // the daemon refused, and said why
  usage = 2,      // the command line is wrong, or names what is not there
  no_daemon = 3,  // no daemon answers at the address
  bad_input = 4,  // a file is missing or wrong
};

class Failure : public std::runtime_error {
 public:
  Failure(ExitCode code, const std::string& message) : std::runtime_error(message), code_(code) {}
  [[nodiscard]] ExitCode code() const { return code_; }

 private:
  ExitCode code_;
};

// The daemon's answer where it refused.
class Refused final : public Failure {
 public:
  explicit Refused(ProblemDetails problem)
      : Failure(ExitCode::refused, placed(problem.detail, problem.where)), problem_(std::move(problem)) {}
  [[nodiscard]] const ProblemDetails& problem() const { return problem_; }

  // "no piece 12 (/piece)"
  [[nodiscard]] static std::string placed(const std::string& what, const std::string& where) {
    return where.empty() ? what : what + " (" + where + ")";
  }

 private:
  ProblemDetails problem_;
};

}  // namespace dryclock::cli
