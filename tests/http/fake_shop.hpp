// An invented shop behind the server's Services: two bays, a few vehicles, events that really change the
// board. Its drying is a straight line, not physics: it serves tests of the server and of the page only.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/clock.hpp"
#include "domain/setup.hpp"
#include "domain/view.hpp"
#include "http/fake_sensors.hpp"
#include "http/services.hpp"

namespace dryclock::fake {

class Shop {
 public:
  explicit Shop(const Clock& clock);

  // The services refer to this shop; `on_change` is called when an event changed the board.
  [[nodiscard]] http::Services services(std::function<void()> on_change);

  // What the next events are refused with; status 0: they are taken.
  void refuse(int status) { refused_with_ = status; }
  void set_dialect(std::string dialect) { site_.dialect = std::move(dialect); }
  [[nodiscard]] std::size_t journal_size() const { return journal_.size(); }

 private:
  [[nodiscard]] Board board() const;
  [[nodiscard]] Result<std::vector<AirPoint>> air(const std::string& bay, Time from, Time to) const;
  [[nodiscard]] Result<std::vector<HistoryPoint>> history(PieceId piece) const;
  [[nodiscard]] Result<VehicleSummary> past(VehicleId id) const;
  [[nodiscard]] http::SubmitAnswer submit(const std::string& json);
  [[nodiscard]] Result<void> apply(const Event& event);
  [[nodiscard]] PieceSummary* find_piece(PieceId id);
  [[nodiscard]] VehicleSummary* find_vehicle(VehicleId id);
  void tell(const std::string& json, Time at);

  const Clock& clock_;
  Sensors sensors_;
  Time opened_;
  http::Site site_{"Invented shop", "Europe/London", "uk", "C"};
  Catalogue catalogue_;
  std::vector<VehicleSummary> vehicles_;
  std::vector<HandedOver> handed_over_;
  std::vector<AlertSummary> alerts_;
  std::vector<Event> journal_;
  std::map<VehicleId, std::vector<PersonalText>> personal_;
  int refused_with_ = 0;
};

}  // namespace dryclock::fake
