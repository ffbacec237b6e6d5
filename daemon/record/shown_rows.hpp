// What the page said of one vehicle, from the `shown` rows that were written then (domain/shown.hpp).
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "domain/fact.hpp"
#include "domain/shown.hpp"
#include "domain/types.hpp"
#include "history/events.hpp"

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
struct AlertCourse {
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

  // The row of the vehicle's view that was written right before that deed's; null: none was.
  [[nodiscard]] const ShownRow* before(Seq event) const;
  // The newest that was said of it in rows up to `last`, and of no later time than `until`: those do not rise
  // with the rows' numbers. Rows that leave it out mean that it had not changed.
  [[nodiscard]] std::optional<Said> said(PieceId piece, models::Milestone which, Time until, Seq last) const;
  // What was said when the deed was done: right before it, or where it was told late the newest until then.
  // Absent: no row says.
  [[nodiscard]] std::optional<Said> said_at(const history::RecordedEvent& deed, PieceId piece,
                                            models::Milestone which) const;
  // Likewise of the vehicle: its release and its pieces' milestones; what no row says is absent.
  [[nodiscard]] ShownVehicle view_at(const history::RecordedEvent& deed) const;
  // Whether an alert without a vehicle matters that was raised then, and was over then (absent: it is open).
  using Concerns = std::function<bool(const ShownAlert&, Time raised, std::optional<Time> over)>;
  // The vehicle's own and those that matter, in order of raising.
  [[nodiscard]] std::vector<AlertCourse> alerts(const Concerns& concerns) const;
  // Of the vehicle.
  [[nodiscard]] std::vector<ShownRow> own() const;

 private:
  // Rows up to `last`, of no later time than `until`.
  struct Span {
    Time until;
    Seq last = 0;
  };
  [[nodiscard]] std::optional<Span> span_of(const history::RecordedEvent& deed) const;
  // `find`: the milestone in a row's view of the vehicle, or null.
  template <class Find>
  [[nodiscard]] std::optional<Said> newest(Span span, Find find) const;

  std::vector<ShownRow> rows_;
};

// A sentence that was said: no message, words alone.
[[nodiscard]] Fact ready_words(std::string words);

// The view with what the row says in place of what it holds.
void say(VehicleSummary& view, const ShownVehicle& said);

}  // namespace dryclock::record
