// What the page said of one vehicle, from the `shown` rows that were written then (domain/shown.hpp).
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "domain/shown.hpp"
#include "domain/types.hpp"
#include "history/dates.hpp"

namespace dryclock::record {

struct ShownRow {
  Seq seq = 0;
  Shown shown;
  std::string json;  // its payload
};

// A milestone as it was said, and when.
struct Said {
  Time at;
  ShownMilestone milestone;
};

// An alert from its rising on, as far as the rows tell.
struct ToldAlert {
  struct Delivery {
    Time at;
    std::string channel;
    bool given_up = false;
  };
  Time raised;
  ShownAlert alert;  // with the text that it had last
  std::optional<Time> seen, cleared;
  std::vector<Delivery> deliveries;
};

class ShownRows {
 public:
  // `rows`: of kind `shown`, in order. Those of other vehicles, and those of a later program that cannot be
  // read, are left out.
  // Their times move with their rows where those are dated anew.
  ShownRows(VehicleId vehicle, const std::vector<JournalRow>& rows, const history::Dates& dates);

  // The row that was written right before that deed's; null: none was.
  [[nodiscard]] const ShownRow* before(Seq event) const;
  // The newest that was said of it until `until`, up to that row. Rows that leave it out mean that it had not
  // changed.
  [[nodiscard]] std::optional<Said> said(PieceId piece, models::Milestone which, Time until, Seq last) const;
  // In order of raising; `concerns` says of those without a vehicle whether they matter.
  [[nodiscard]] std::vector<ToldAlert> alerts(
      const std::function<bool(const ShownAlert&, Time at)>& concerns) const;
  // Of the vehicle.
  [[nodiscard]] std::vector<ShownRow> own() const;

 private:
  std::vector<ShownRow> rows_;
};

// The view with what the row says in place of what it holds.
void say(VehicleSummary& view, const ShownVehicle& said);

}  // namespace dryclock::record
