// What the rechecks of all vehicles say: each vehicle is lived again once, and remembered until another
// recheck of it is told. Derived, and gone with the process.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "domain/rechecks.hpp"

namespace dryclock::app {

// What takes long, done elsewhere. Each calls back once, on the thread of the index.
struct RecheckWork {
  // The vehicles with rechecks, each with the last row that speaks of them.
  using Listed = Result<std::map<VehicleId, Seq>>;
  std::function<void(std::function<void(Listed)> done)> list;
  // What was found on one of them, from the journal as it is now.
  using Found = Result<std::vector<RecheckedPiece>>;
  std::function<void(VehicleId vehicle, std::function<void(Found)> done)> look_at;
  // When those who ask have waited long enough.
  std::function<void(std::function<void()> done)> patience;
};

// One thread, and no wait: the core's. It must outlive what `work` still has to call back.
class RecheckIndex {
 public:
  using Answer = std::function<void(Result<RecheckReport>)>;

  explicit RecheckIndex(RecheckWork work) : work_(std::move(work)) {}

  // Answers once: when all vehicles are worked out, or when patience is over; what is left then is told as
  // pending, and the next call goes on. Vehicles are looked at one at a time, however many ask.
  void report(Answer answer);
  // Rows have other times now: what is known is worked out again, also for those who are waiting.
  void forget();

 private:
  struct Known {
    Seq through = 0;  // the last event that speaks of its rechecks
    std::vector<RecheckedPiece> pieces;
  };
  struct Request {
    std::map<VehicleId, Seq> vehicles;
    Answer answer;
  };
  using Requests = std::vector<std::shared_ptr<Request>>;

  void begin(std::map<VehicleId, Seq> vehicles, Answer answer);
  void go_on();
  void found(VehicleId vehicle, Seq through, RecheckWork::Found pieces);
  void give_up(const std::shared_ptr<Request>& request);
  [[nodiscard]] bool knows(VehicleId vehicle, Seq through) const;
  [[nodiscard]] std::optional<VehicleId> first_unknown(const Request& request) const;
  [[nodiscard]] RecheckReport report_of(const Request& request) const;

  RecheckWork work_;
  std::map<VehicleId, Known> known_;
  Requests open_;  // in the order in which they came
  bool looking_ = false;
  bool outdated_ = false;  // what is being looked at began before forget()
};

}  // namespace dryclock::app
