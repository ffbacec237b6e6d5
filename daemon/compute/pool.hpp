// A few threads for work that takes long: copies in, answers out. No job sees another's data.
#pragma once

#include <functional>
#include <memory>
#include <utility>

namespace dryclock::compute {

class Pool {
 public:
  // `post` hands a function to the thread that is to have the answers; it is called from the pool's threads.
  // `threads` 0: one less than the machine has, at least one.
  explicit Pool(std::function<void(std::function<void()>)> post, std::size_t threads = 0);
  ~Pool();  // stop()

  // Runs `job()` on a thread of the pool, then `done(answer)` where `post` puts it. Jobs start in order. Any
  // thread.
  template <class Job, class Done>
  void submit(Job job, Done done) {
    run([this, job = std::move(job), done = std::move(done)]() mutable {
      post_([answer = job(), done = std::move(done)]() mutable { done(std::move(answer)); });
    });
  }
  // Jobs that have not begun are dropped; waits for those that have.
  void stop();

 private:
  void run(std::function<void()> work);

  std::function<void(std::function<void()>)> post_;
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace dryclock::compute
