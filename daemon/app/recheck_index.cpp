#include "app/recheck_index.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "record/rechecks.hpp"

namespace dryclock::app {

void RecheckIndex::report(Answer answer) {
  work_.list([this, answer = std::move(answer)](RecheckWork::Listed listed) {
    if (!listed) {
      return answer(listed.error());
    }
    begin(std::move(listed).value(), answer);
  });
}

void RecheckIndex::begin(std::map<VehicleId, Seq> vehicles, Answer answer) {
  const auto request = std::make_shared<Request>(Request{std::move(vehicles), std::move(answer)});
  if (!first_unknown(*request)) {
    return request->answer(report_of(*request));
  }
  open_.push_back(request);
  work_.patience([this, weak = std::weak_ptr<Request>(request)] {
    if (const auto late = weak.lock()) {
      give_up(late);
    }
  });
  go_on();
}

void RecheckIndex::forget() {
  known_.clear();
  outdated_ = looking_;
}

// Those that need nothing more are answered; for the oldest of the others the next vehicle is looked at.
void RecheckIndex::go_on() {
  const auto is_done = [this](const auto& request) { return !first_unknown(*request); };
  Requests done;
  std::ranges::copy_if(open_, std::back_inserter(done), is_done);
  std::erase_if(open_, is_done);
  for (const auto& request : done) {
    request->answer(report_of(*request));
  }
  if (looking_ || open_.empty()) {
    return;
  }
  looking_ = true;
  const auto vehicle = *first_unknown(*open_.front());
  const auto through = open_.front()->vehicles.at(vehicle);
  work_.look_at(vehicle, [this, vehicle, through](RecheckWork::Found pieces) {
    found(vehicle, through, std::move(pieces));
  });
}

void RecheckIndex::found(VehicleId vehicle, Seq through, RecheckWork::Found pieces) {
  looking_ = false;
  if (std::exchange(outdated_, false)) {
    return go_on();
  }
  if (pieces) {
    known_[vehicle] = {through, std::move(pieces).value()};
    return go_on();
  }
  const auto needs_it = [&](const auto& request) {
    const auto asked = request->vehicles.find(vehicle);
    return asked != request->vehicles.end() && !knows(vehicle, asked->second);
  };
  Requests failed;
  std::ranges::copy_if(open_, std::back_inserter(failed), needs_it);
  std::erase_if(open_, needs_it);
  for (const auto& request : failed) {
    request->answer(pieces.error());
  }
  go_on();
}

// What is being looked at meanwhile still goes into the index.
void RecheckIndex::give_up(const std::shared_ptr<Request>& request) {
  if (std::erase(open_, request) != 0) {
    request->answer(report_of(*request));
  }
}

// The index may be ahead of one who asked before: pieces are looked at as of now.
bool RecheckIndex::knows(VehicleId vehicle, Seq through) const {
  const auto known = known_.find(vehicle);
  return known != known_.end() && known->second.through >= through;
}

std::optional<VehicleId> RecheckIndex::first_unknown(const Request& request) const {
  const auto unknown = std::ranges::find_if(
      request.vehicles, [this](const auto& asked) { return !knows(asked.first, asked.second); });
  return unknown == request.vehicles.end() ? std::nullopt : std::optional{unknown->first};
}

RecheckReport RecheckIndex::report_of(const Request& request) const {
  RecheckReport report;
  report.few_below = record::few_pieces;
  std::vector<RecheckedPiece> pieces;
  for (const auto& [vehicle, through] : request.vehicles) {
    ++report.vehicles;
    if (!knows(vehicle, through)) {
      ++report.pending;
      continue;
    }
    const auto& known = known_.at(vehicle).pieces;
    pieces.insert(pieces.end(), known.begin(), known.end());
  }
  report.groups = record::grouped(pieces);
  return report;
}

}  // namespace dryclock::app
