#include <doctest/doctest.h>

#include <deque>
#include <string>
#include <utility>

#include "app/recheck_index.hpp"

namespace dryclock::app {
namespace {

// The pool and the timer, played by hand.
struct Elsewhere {
  std::map<VehicleId, Seq> rechecked;  // what the journal has
  std::deque<std::pair<VehicleId, std::function<void(RecheckWork::Found)>>> jobs{};
  std::deque<std::function<void()>> timers{};
  std::string looked_at{};

  RecheckWork work() {
    return {.list = [this](const std::function<void(RecheckWork::Listed)>& done) { done(rechecked); },
            .look_at =
                [this](VehicleId vehicle, std::function<void(RecheckWork::Found)> done) {
                  looked_at += std::to_string(vehicle) + " ";
                  jobs.emplace_back(vehicle, std::move(done));
                },
            .patience = [this](std::function<void()> done) { timers.push_back(std::move(done)); }};
  }
  // The one job there may be: each vehicle has one piece, which lifted.
  void finish() {
    REQUIRE(jobs.size() == 1);
    const auto [vehicle, done] = std::exchange(jobs, {}).front();
    RecheckedPiece piece;
    piece.vehicle = vehicle;
    piece.piece = vehicle;
    piece.panel = "bonnet";
    piece.lifted = true;
    done(std::vector{piece});
  }
  void fail() {
    REQUIRE(jobs.size() == 1);
    std::exchange(jobs, {}).front().second(Problem{"disk I/O error", "database"});
  }
  void lose_patience() {
    for (const auto& timer : std::exchange(timers, {})) {
      timer();
    }
  }
};

// One line for each answer: "vehicles/pending/pieces", or the problem.
RecheckIndex::Answer into(std::string& told) {
  return [&told](const Result<RecheckReport>& report) {
    if (!report) {
      told += report.error().what + "\n";
      return;
    }
    int pieces = 0;
    for (const auto& group : report->groups) {
      pieces += group.by == "all" ? group.pieces : 0;
    }
    told += std::to_string(report->vehicles) + "/" + std::to_string(report->pending) + "/" +
            std::to_string(pieces) + "\n";
  };
}

}  // namespace

TEST_CASE("no vehicle was looked at again: an empty answer, and no work") {
  Elsewhere elsewhere;
  RecheckIndex index(elsewhere.work());
  std::string told;
  index.report(into(told));
  CHECK(told == "0/0/0\n");
  CHECK(elsewhere.looked_at.empty());
}

TEST_CASE("the answer waits for all vehicles, one at a time; the next is ready at once") {
  Elsewhere elsewhere{.rechecked = {{1, 10}, {2, 20}}};
  RecheckIndex index(elsewhere.work());
  std::string told;
  index.report(into(told));
  elsewhere.finish();
  CHECK(told.empty());
  elsewhere.finish();
  CHECK(told == "2/0/2\n");
  elsewhere.lose_patience();  // too late to matter
  index.report(into(told));
  CHECK(told == "2/0/2\n2/0/2\n");
  CHECK(elsewhere.looked_at == "1 2 ");
}

TEST_CASE("two who ask at once share the work, and each is answered once") {
  Elsewhere elsewhere{.rechecked = {{1, 10}, {2, 20}}};
  RecheckIndex index(elsewhere.work());
  std::string first, second;
  index.report(into(first));
  elsewhere.rechecked[3] = 30;  // told between the two
  index.report(into(second));
  CHECK(elsewhere.jobs.size() == 1);
  elsewhere.finish();
  elsewhere.finish();
  CHECK(first == "2/0/2\n");
  CHECK(second.empty());
  elsewhere.finish();
  CHECK(second == "3/0/3\n");
  elsewhere.lose_patience();
  CHECK(first == "2/0/2\n");
  CHECK(second == "3/0/3\n");
  CHECK(elsewhere.looked_at == "1 2 3 ");
}

TEST_CASE("when patience is over what is left is pending, and the next call goes on") {
  Elsewhere elsewhere{.rechecked = {{1, 10}, {2, 20}, {3, 30}}};
  RecheckIndex index(elsewhere.work());
  std::string told;
  index.report(into(told));
  elsewhere.finish();
  elsewhere.lose_patience();
  CHECK(told == "3/2/1\n");
  elsewhere.finish();  // what had begun still counts, and nothing more is begun for nobody
  CHECK(elsewhere.jobs.empty());
  index.report(into(told));
  elsewhere.finish();
  CHECK(told == "3/2/1\n3/0/3\n");
  CHECK(elsewhere.looked_at == "1 2 3 ");
}

TEST_CASE("a vehicle is looked at again when another recheck of it was told, also meanwhile") {
  Elsewhere elsewhere{.rechecked = {{1, 10}}};
  RecheckIndex index(elsewhere.work());
  std::string first, second;
  index.report(into(first));
  elsewhere.rechecked[1] = 11;  // the job may have read before this row
  index.report(into(second));
  elsewhere.finish();
  CHECK(first == "1/0/1\n");
  CHECK(second.empty());
  elsewhere.finish();
  CHECK(second == "1/0/1\n");
  CHECK(elsewhere.looked_at == "1 1 ");
}

TEST_CASE(
    "what cannot be read is the answer of all who need it; others go on, and the next call tries again") {
  Elsewhere elsewhere{.rechecked = {{1, 10}}};
  RecheckIndex index(elsewhere.work());
  std::string first, second, other;
  index.report(into(first));
  index.report(into(second));
  elsewhere.rechecked = {{2, 20}};
  index.report(into(other));
  elsewhere.fail();
  CHECK(first == "disk I/O error\n");
  CHECK(second == "disk I/O error\n");
  elsewhere.finish();
  CHECK(other == "1/0/1\n");
  elsewhere.rechecked = {{1, 10}};
  index.report(into(first));
  elsewhere.finish();
  CHECK(first == "disk I/O error\n1/0/1\n");
}

TEST_CASE("when rows have other times all is looked at again, also what is being looked at") {
  Elsewhere elsewhere{.rechecked = {{1, 10}, {2, 20}}};
  RecheckIndex index(elsewhere.work());
  std::string told;
  index.report(into(told));
  elsewhere.finish();
  index.forget();      // while 2 is looked at, and 1 is known
  elsewhere.finish();  // with the old times: counts for nothing
  CHECK(told.empty());
  elsewhere.finish();
  elsewhere.finish();
  CHECK(told == "2/0/2\n");
  CHECK(elsewhere.looked_at == "1 2 1 2 ");
  index.forget();  // while nothing is looked at
  index.report(into(told));
  elsewhere.finish();
  elsewhere.finish();
  CHECK(told == "2/0/2\n2/0/2\n");
}

}  // namespace dryclock::app
