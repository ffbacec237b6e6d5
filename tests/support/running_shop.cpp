#include "support/running_shop.hpp"

#include <deque>
#include <exception>
#include <future>
#include <mutex>
#include <thread>
#include <utility>

#include "support/lived_shop.hpp"
#include "support/scratch_folder.hpp"

namespace dryclock::test {

struct RunningShop::State {
  using Work = std::packaged_task<void(WholeShop&)>;

  void run(WholeShopOptions options, std::promise<WholeShop*> opened);
  void push(Work work);
  // Work waits for what the shop does, so it cannot be done in a handler of the shop's own.
  [[nodiscard]] std::optional<Work> next();

  ScratchFolder folder;
  std::mutex mutex;
  std::deque<Work> waiting;
  bool ends = false;
  WholeShop* shop = nullptr;
  std::uint16_t port = 0;
  std::jthread thread;
};

void RunningShop::State::run(WholeShopOptions options, std::promise<WholeShop*> opened) {
  std::unique_ptr<WholeShop> own;
  try {
    own = lived_shop(folder.path(), std::move(options));
  } catch (...) {
    return opened.set_exception(std::current_exception());
  }
  opened.set_value(own.get());
  while (!ends) {
    if (auto work = next()) {
      (*work)(*own);
    } else {
      own->turns();
    }
  }
}

std::optional<RunningShop::State::Work> RunningShop::State::next() {
  const std::lock_guard lock(mutex);
  if (waiting.empty()) {
    return std::nullopt;
  }
  std::optional work{std::move(waiting.front())};
  waiting.pop_front();
  return work;
}

void RunningShop::State::push(Work work) {
  const std::lock_guard lock(mutex);  // until both are done: the work may be the shop's last
  waiting.push_back(std::move(work));
  shop->parts().post([] {});  // turns() returns
}

RunningShop::RunningShop(http::Options serving, std::uint16_t broker, std::string language)
    : state_(std::make_unique<State>()) {
  WholeShopOptions options{
      .now = {}, .language = std::move(language), .broker = broker, .serving = std::move(serving)};
  std::promise<WholeShop*> opened;
  auto shop = opened.get_future();
  state_->thread = std::jthread{[this, options = std::move(options), opened = std::move(opened)]() mutable {
    state_->run(std::move(options), std::move(opened));
  }};
  state_->shop = shop.get();
  on_core([this](WholeShop& own) { state_->port = own.parts().server->port(); });
}

RunningShop::~RunningShop() {
  try {
    if (state_->shop != nullptr) {
      state_->push(State::Work{[this](WholeShop&) { state_->ends = true; }});
    }
  } catch (const std::exception&) {
    std::terminate();  // its thread could not be told to end
  }
}

std::uint16_t RunningShop::port() const {
  return state_->port;
}

void RunningShop::on_core(const std::function<void(WholeShop&)>& work) {
  State::Work task{work};
  auto done = task.get_future();
  state_->push(std::move(task));
  done.get();
}

}  // namespace dryclock::test
