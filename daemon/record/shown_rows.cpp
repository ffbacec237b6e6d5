#include "record/shown_rows.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <set>

#include "record/vehicle_events.hpp"
#include "wire/shown_json.hpp"

namespace dryclock::record {
namespace {

const ShownMilestone* milestone_in(const ShownVehicle& said, PieceId piece, std::size_t which) {
  const auto found = std::ranges::find(said.pieces, piece, &ShownPiece::piece);
  const bool has = found != said.pieces.end() && found->milestones[which].has_value();
  return has ? &*found->milestones[which] : nullptr;
}

void say(MilestoneView& view, const ShownMilestone& said) {
  view.probability = said.probability;
  view.announced = said.announced;
  view.look = said.look;
  view.by_word = said.by_word;
  view.expected = said.expected.value_or(said.announced ? Spread{} : view.expected);
  view.held_by = ready_words(said.held_by);
}

void move(ShownMilestone& milestone, Millis by) {
  const auto move_one = [by](std::optional<Time>& time) {
    if (time) {
      *time += by;
    }
  };
  move_one(milestone.announced);
  move_one(milestone.look);
  if (milestone.expected) {
    move_one(milestone.expected->early);
    move_one(milestone.expected->likely);
    move_one(milestone.expected->late);
  }
}

// What it leaves out is as before.
ShownMilestone after(const std::optional<Said>& before, ShownMilestone now) {
  if (before && !now.announced) {
    now.expected = now.expected ? now.expected : before->milestone.expected;
    now.limiting = now.limiting ? now.limiting : before->milestone.limiting;
  }
  return now;
}

void move(Shown& shown, Millis by) {
  shown.at += by;
  if (!shown.vehicle) {
    return;
  }
  if (shown.vehicle->release) {
    move(*shown.vehicle->release, by);
  }
  for (auto& piece : shown.vehicle->pieces) {
    for (auto& milestone : piece.milestones) {
      if (milestone) {
        move(*milestone, by);
      }
    }
  }
}

std::string id_of(const ShownAlert& alert) {
  return std::string{name_of(alert.rule)} + "/" + alert.subject;
}

// What became of every alert until it was over. A message about it may arrive later, until it is raised anew.
class Stories {
 public:
  struct Story {
    AlertCourse course;
    bool own = false;          // of the vehicle
    std::optional<Time> over;  // also where it was raised anew though no row says that it was cleared
  };
  void add(const Shown& shown) {
    for (const auto& alert : shown.alerts) {
      if (alert.step == AlertStep::raised) {
        raise(shown, alert);
      } else if (auto* story = newest(id_of(alert)); story != nullptr && !story->over) {
        go_on(*story, shown.at, alert);
      }
    }
    for (const auto& one : shown.deliveries) {
      if (auto* story = newest(one.alert)) {
        story->course.deliveries.push_back({shown.at, one.channel, one.given_up.has_value()});
      }
    }
  }
  [[nodiscard]] std::vector<Story> all() && { return std::move(all_); }

 private:
  Story* newest(const std::string& id) {
    const auto found = newest_.find(id);
    return found == newest_.end() ? nullptr : &all_[found->second];
  }
  void raise(const Shown& shown, const ShownAlert& alert) {
    if (auto* before = newest(id_of(alert))) {
      before->over = before->over.value_or(shown.at);
    }
    newest_[id_of(alert)] = all_.size();
    all_.push_back({{shown.at, alert, {}, {}, {}}, shown.vehicle.has_value(), {}});
  }
  static void go_on(Story& story, Time at, const ShownAlert& alert) {
    if (alert.step == AlertStep::restated) {
      story.course.alert.text = alert.text;
    } else if (alert.step == AlertStep::cleared) {
      story.course.cleared = story.over = at;
    } else {
      story.course.seen = at;
    }
  }

  std::vector<Story> all_;
  std::map<std::string, std::size_t> newest_;  // by id
};

}  // namespace

ShownRows::ShownRows(VehicleId vehicle, const std::vector<JournalRow>& rows, const history::Dates& dates) {
  for (const auto& row : rows) {
    const VehicleId whose = shown_vehicle(row.message.topic);
    if (row.kind != RowKind::shown || (whose != 0 && whose != vehicle)) {
      continue;
    }
    if (auto shown = wire::read_shown(whose, row.message.payload)) {
      const Time label = row.message.received_at;
      move(*shown, dates.of({row.kind, label, row.boot_time, row.session}) - label);
      rows_.push_back({row.seq, std::move(*shown), row.message.payload});
    }
  }
}

const ShownRow* ShownRows::before(Seq event) const {
  const auto found = std::ranges::lower_bound(rows_, event - 1, {}, &ShownRow::seq);
  const bool is_it = found != rows_.end() && found->seq == event - 1 && found->shown.why == ShownWhy::deed &&
                     found->shown.vehicle;
  return is_it ? &*found : nullptr;
}

template <class Find>
std::optional<Said> ShownRows::newest(Span span, Find find) const {
  std::optional<Said> last;
  for (const auto& row : rows_) {
    if (row.seq > span.last) {
      break;
    }
    if (row.shown.at > span.until || !row.shown.vehicle) {
      continue;
    }
    if (const ShownMilestone* milestone = find(*row.shown.vehicle)) {
      last = Said{row.shown.at, after(last, *milestone)};
    } else if (last && row.shown.why == ShownWhy::hourly) {
      last->at = std::max(last->at, row.shown.at);
    }
  }
  return last;
}

std::optional<Said> ShownRows::said(PieceId piece, models::Milestone which, Time until, Seq last) const {
  return newest({until, last}, [&](const ShownVehicle& said) {
    return milestone_in(said, piece, static_cast<std::size_t>(which));
  });
}

// A deed's own row counts whatever time its view is of: readings may come later than the clock's minute.
std::optional<ShownRows::Span> ShownRows::span_of(const history::RecordedEvent& deed) const {
  if (entered_late(deed.event)) {
    return Span{deed.event.at, deed.row.seq};
  }
  const auto* row = before(deed.row.seq);
  return row == nullptr ? std::nullopt : std::optional{Span{Time::max(), row->seq}};
}

std::optional<Said> ShownRows::said_at(const history::RecordedEvent& deed, PieceId piece,
                                       models::Milestone which) const {
  const auto span = span_of(deed);
  return span ? said(piece, which, span->until, span->last) : std::nullopt;
}

ShownVehicle ShownRows::view_at(const history::RecordedEvent& deed) const {
  ShownVehicle out;
  const auto span = span_of(deed);
  if (!span) {
    return out;
  }
  if (auto release =
          newest(*span, [](const ShownVehicle& said) { return said.release ? &*said.release : nullptr; })) {
    out.release = std::move(release->milestone);
  }
  std::set<PieceId> pieces;
  for (const auto& row : rows_) {
    if (row.seq <= span->last && row.shown.at <= span->until && row.shown.vehicle) {
      const auto& said = *row.shown.vehicle;
      out.hand_over_probability =
          said.hand_over_probability ? said.hand_over_probability : out.hand_over_probability;
      std::ranges::transform(said.pieces, std::inserter(pieces, pieces.end()), &ShownPiece::piece);
    }
  }
  for (const PieceId piece : pieces) {
    auto& one = out.pieces.emplace_back();
    one.piece = piece;
    for (std::size_t k = 0; k < models::milestone_kinds; ++k) {
      if (auto known = said(piece, static_cast<models::Milestone>(k), span->until, span->last)) {
        one.milestones[k] = std::move(known->milestone);
      }
    }
  }
  return out;
}

std::vector<AlertCourse> ShownRows::alerts(const Concerns& concerns) const {
  Stories stories;
  for (const auto& row : rows_) {
    stories.add(row.shown);
  }
  std::vector<AlertCourse> out;
  for (auto& story : std::move(stories).all()) {
    if (story.own || concerns(story.course.alert, story.course.raised, story.over)) {
      out.push_back(std::move(story.course));
    }
  }
  return out;
}

std::vector<ShownRow> ShownRows::own() const {
  std::vector<ShownRow> out;
  std::ranges::copy_if(rows_, std::back_inserter(out),
                       [](const ShownRow& row) { return row.shown.vehicle.has_value(); });
  return out;
}

Fact ready_words(std::string words) {
  return {{}, {}, std::move(words)};
}

void say(VehicleSummary& view, const ShownVehicle& said) {
  if (said.release) {
    view.release_probability = said.release->probability;
    view.release_ready = said.release->announced;
    view.release_look = said.release->look;
    view.release_expected = said.release->expected.value_or(Spread{});
    view.held_by = ready_words(said.release->held_by);
  }
  view.hand_over_probability =
      said.hand_over_probability ? said.hand_over_probability : view.hand_over_probability;
  for (const auto& piece : said.pieces) {
    const auto found = std::ranges::find(view.pieces, piece.piece, &PieceSummary::id);
    for (std::size_t k = 0; found != view.pieces.end() && k < models::milestone_kinds; ++k) {
      if (piece.milestones[k]) {
        say(found->milestones[k], *piece.milestones[k]);
      }
    }
  }
}

}  // namespace dryclock::record
