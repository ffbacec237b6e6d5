// A few threads for work that takes long: copies in, answers out. No job sees another's data.
#pragma once

#include <exception>
#include <functional>
#include <memory>
#include <type_traits>
#include <utility>

#include "base/result.hpp"

namespace dryclock::compute {

class Pool {
 public:
  // `post` hands a function to the thread that is to have the answers; it is called from the pool's threads.
  // `threads` 0: one less than the machine has, at least one.
  explicit Pool(std::function<void(std::function<void()>)> post, std::size_t threads = 0);
  ~Pool();  // stop()

  // Runs `job()` on a thread of the pool, then `done(Result<answer>)` where `post` puts it: once, with a
  // Problem where the job has one or throws. Jobs start in order. Any thread.
  template <class Job, class Done>
  void submit(Job job, Done done) {
    run([this, job = std::move(job), done = std::move(done)]() mutable {
      post_([answer = tried(job), done = std::move(done)]() mutable { done(std::move(answer)); });
    });
  }
  // Jobs that have not begun are dropped; waits for those that have.
  void stop();

 private:
  template <class Answer>
  struct Tried {
    using type = Result<Answer>;
  };
  template <class Answer>
  struct Tried<Result<Answer>> {
    using type = Result<Answer>;
  };
  template <class Job>
  static typename Tried<std::invoke_result_t<Job&>>::type tried(Job& job) {
    try {
      return job();
    } catch (const std::exception& error) {  // out of memory, most likely
      return given_up(error);
    }
  }
  static Problem given_up(const std::exception& error);
  void run(std::function<void()> work);

  std::function<void(std::function<void()>)> post_;
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::compute
