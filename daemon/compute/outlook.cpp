#include "compute/outlook.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "compute/air_ahead.hpp"
#include "compute/full_strength.hpp"
#include "compute/judge.hpp"
#include "compute/latest_lay.hpp"
#include "compute/piece_ahead.hpp"

namespace dryclock::compute {
namespace {

using models::Milestone;
using models::ShopNode;

constexpr auto may_leave = static_cast<std::size_t>(Milestone::may_leave);

// What the shop may be, for each of the vehicle's films.
class Shop {
 public:
  explicit Shop(const OutlookTask& task)
      : belief_(task.belief ? *task.belief : models::ShopBelief(models::ShopLevels{})) {
    for (const auto& piece : task.pieces) add(piece.belief_key);
    for (const auto& piece : task.to_lay) add(piece.belief_key);
  }
  struct Film {
    models::ShopLevels levels;
    std::vector<ShopNode> nodes;
    std::vector<std::size_t> partner;  // for each of the first film's nodes
  };
  [[nodiscard]] const Film& film(const std::string& key) const { return films_.at(key); }
  [[nodiscard]] const std::vector<ShopNode>& nodes() const { return first_; }  // the first film's

 private:
  void add(const std::string& key) {
    if (films_.contains(key)) return;
    auto nodes = belief_.nodes(key);
    if (first_.empty()) first_ = nodes;
    auto partner = partners(first_, nodes);
    films_.emplace(key, Film{belief_.levels(key), std::move(nodes), std::move(partner)});
  }

  const models::ShopBelief belief_;
  std::map<std::string, Film> films_;
  std::vector<ShopNode> first_;
};

class Outlook {
 public:
  explicit Outlook(const OutlookTask& task);
  [[nodiscard]] OutlookAnswer answer();

 private:
  using Alike = std::vector<std::size_t>;  // pieces of the task that share every figure

  [[nodiscard]] std::vector<Alike> alike() const;
  [[nodiscard]] bool wholly(std::size_t which, const Alike& pieces) const;
  void look_ahead(const Alike& pieces);
  void plan();
  void release();

  void waits_for(const Chances& leave, const Shop::Film& film, std::size_t times);
  void strong_with(const PieceAhead& ahead, double now, const Shop::Film& film);
  [[nodiscard]] PieceState state(PieceNow& now, const Shop::Film& film) const;
  void reach(const Alike& pieces, std::size_t which, PieceNow& now, const PieceAhead& ahead,
             const Curve& curve, const Shop::Film& film);
  [[nodiscard]] std::optional<Time> time_of(const std::optional<double>& seconds) const;
  [[nodiscard]] Spread spread(const Curve& curve) const;
  [[nodiscard]] std::optional<Time> announces(const Curve& curve, const Standing& standing) const;

  const OutlookTask& task_;
  Shop shop_;
  AirAhead air_;
  Chances leave_;                         // of the whole vehicle, by the first film's nodes
  std::optional<double> strength_ = 0.0;  // seconds from now, of the last piece so far; absent: beyond
  OutlookAnswer answer_;
};

Outlook::Outlook(const OutlookTask& task)
    : task_(task),
      shop_(task),
      air_(task),
      leave_(air_.gone_through().size(), std::max<std::size_t>(shop_.nodes().size(), 1), 1.0) {
  answer_.vehicle = task.vehicle;
  answer_.revision = task.revision;
  answer_.at = task.now;
  answer_.pieces.resize(task.pieces.size());
}

std::optional<Time> Outlook::time_of(const std::optional<double>& seconds) const {
  if (!seconds || !air_.foretold()) return std::nullopt;
  return task_.now + Millis{std::llround(*seconds * 1000.0)};
}

Spread Outlook::spread(const Curve& curve) const {
  return {.early = time_of(curve.crossing(0.1)),
          .likely = time_of(curve.crossing(0.5)),
          .late = time_of(curve.crossing(0.9))};
}

std::optional<Time> Outlook::announces(const Curve& curve, const Standing& standing) const {
  const auto level = next_level(standing, task_.announce_level);
  return level ? time_of(curve.crossing(*level)) : std::nullopt;
}

std::vector<Outlook::Alike> Outlook::alike() const {
  std::vector<Alike> out;
  for (std::size_t i = 0; i < task_.pieces.size(); ++i) {
    const auto& piece = task_.pieces[i];
    const auto same = std::ranges::find_if(out, [&](const Alike& pieces) {
      const auto& other = task_.pieces[pieces.front()];
      return other.belief_key == piece.belief_key && other.piece == piece.piece;
    });
    if (same != out.end()) {
      same->push_back(i);
    } else {
      out.push_back({i});
    }
  }
  return out;
}

// Whether somebody asks for the whole curve: once a milestone was announced its chance now is enough.
bool Outlook::wholly(std::size_t which, const Alike& pieces) const {
  return which == may_leave || std::ranges::any_of(pieces, [&](std::size_t i) {
           return task_.pieces[i].needed[which] && !task_.pieces[i].said[which].ready;
         });
}

void Outlook::waits_for(const Chances& leave, const Shop::Film& film, std::size_t times) {
  for (std::size_t i = 0; i < times; ++i) {
    leave_.multiply(leave, film.partner);
  }
}

// `now`: how old the piece is. [s]
void Outlook::strong_with(const PieceAhead& ahead, double now, const Shop::Film& film) {
  if (!strength_) return;
  strength_ = full_strength(ahead.piece(), now, *strength_, air_.air(), task_.step, task_.thresholds,
                            film.levels, film.nodes);
}

PieceState Outlook::state(PieceNow& now, const Shop::Film& film) const {
  const models::LaidPiece& piece = now.piece;
  PieceState state;
  state.panel = piece.panel();
  state.validity = piece.validity();
  for (std::size_t z = 0; z < piece.zones().size(); ++z) {
    const auto holds = models::zone_holds(piece, z, now.point, film.nodes, film.levels);
    state.zones.push_back(
        {.kind = piece.zones()[z].kind,
         .water = holds.water,
         .wet_share = holds.wet_share,
         .excess = holds.excess,
         .bond = holds.bond,
         .gone_probability = now.reach.zone_chance(Milestone::liquid_gone, z, now.point, film.nodes),
         .validity = piece.validity()});
  }
  return state;
}

void Outlook::reach(const Alike& pieces, std::size_t which, PieceNow& now, const PieceAhead& ahead,
                    const Curve& curve, const Shop::Film& film) {
  const auto milestone = static_cast<Milestone>(which);
  OutlookAnswer::Item::Reach reach;
  reach.probability = curve[0];
  const std::size_t zone = now.reach.limiting_zone(milestone, now.point, film.nodes);
  reach.limiting_zone = now.piece.zones()[zone].kind;
  if (wholly(which, pieces) && air_.foretold()) {
    reach.expected = spread(curve);
    if (const auto likely = curve.crossing(0.5)) reach.hours_to_go = ahead.standard_hours(*likely);
  }
  for (const std::size_t i : pieces) {
    const auto& piece = task_.pieces[i];
    if (!piece.needed[which] && which != may_leave) continue;
    auto& out = answer_.pieces[i].reach[which];
    out = reach;
    if (piece.needed[which]) out.announces = announces(curve, standing(task_, piece, milestone));
  }
}

void Outlook::look_ahead(const Alike& pieces) {
  const auto& first = task_.pieces[pieces.front()];
  const Shop::Film& film = shop_.film(first.belief_key);
  const auto unsettled = static_cast<std::size_t>(
      std::ranges::count_if(pieces, [&](std::size_t i) { return !task_.pieces[i].said[may_leave].by_word; }));
  const auto asked = [&](std::size_t which) {
    return which == may_leave ||
           std::ranges::any_of(pieces, [&](std::size_t i) { return task_.pieces[i].needed[which]; });
  };
  PieceNow now(first.piece, task_.thresholds, film.levels);
  PieceAhead ahead(now, air_, task_.thresholds, film.levels);
  for (std::size_t which = 0; which < models::milestone_kinds; ++which) {
    if (!asked(which)) continue;
    const auto milestone = static_cast<Milestone>(which);
    Curve curve(air_.moments());
    if (which == may_leave) {
      const Chances chances = ahead.chances(milestone, film.nodes);
      curve = air_.over_courses(chances.over(film.nodes, air_.gone_through()));
      waits_for(chances, film, unsettled);
    } else if (wholly(which, pieces)) {
      curve = air_.over_courses(ahead.curve(milestone, film.nodes));
    } else {
      curve[0] = now.reach.chance(milestone, now.point, film.nodes);
    }
    reach(pieces, which, now, ahead, curve, film);
  }
  const PieceState holds = state(now, film);
  for (const std::size_t i : pieces) {
    answer_.pieces[i].id = task_.pieces[i].id;
    answer_.pieces[i].state = holds;
  }
  strong_with(ahead, first.piece.seconds(), film);
}

// What is planned: laid now, for the release; and until when it may be laid. Equal ones are worked out once.
void Outlook::plan() {
  for (std::size_t i = 0; i < task_.to_lay.size(); ++i) {
    const auto& planned = task_.to_lay[i];
    const auto first = std::ranges::find_if(task_.to_lay, [&](const auto& other) {
      return other.belief_key == planned.belief_key && other.spec == planned.spec;
    });
    const auto same = static_cast<std::size_t>(first - task_.to_lay.begin());
    const Shop::Film& film = shop_.film(planned.belief_key);
    if (same < i) {
      auto known = answer_.to_lay[same];
      static_cast<PlannedPiece&>(known) = planned.piece;
      answer_.to_lay.push_back(std::move(known));
      continue;
    }
    answer_.to_lay.push_back(latest_lay(planned, task_, film.levels, film.nodes));
    if (!air_.foretold()) continue;
    const auto count =
        static_cast<std::size_t>(std::count_if(first, task_.to_lay.end(), [&](const auto& other) {
          return other.belief_key == planned.belief_key && other.spec == planned.spec;
        }));
    const models::LaidPiece piece = laid(planned.spec, air_.air().front());
    PieceNow now(piece, task_.thresholds, film.levels);
    PieceAhead ahead(now, air_, task_.thresholds, film.levels);
    waits_for(ahead.chances(Milestone::may_leave, film.nodes), film, count);
    strong_with(ahead, 0.0, film);
  }
}

void Outlook::release() {
  if (shop_.nodes().empty()) return;  // nothing on it, nothing planned
  const Curve curve = air_.over_courses(leave_.over(shop_.nodes(), air_.gone_through()));
  const bool kept = task_.now >= task_.earliest_release;
  // Without a forecast nothing was laid above.
  const bool to_lay = !task_.to_lay.empty() && !air_.foretold();
  answer_.release_probability = kept && !to_lay ? curve[0] : 0.0;
  const auto not_before = [&](std::optional<Time> at) {
    return at ? std::optional{std::max(*at, task_.earliest_release)} : std::nullopt;
  };
  const Spread expected = spread(curve);
  answer_.release = {not_before(expected.early), not_before(expected.likely), not_before(expected.late)};
  answer_.release_announces = not_before(announces(curve, release_standing(task_)));
  answer_.full_strength = time_of(strength_);
  if (task_.hand_over && air_.foretold()) {
    answer_.hand_over_probability =
        *task_.hand_over >= task_.earliest_release
            ? curve.at(std::max(0.0, seconds_between(task_.now, *task_.hand_over)))
            : 0.0;
  }
}

OutlookAnswer Outlook::answer() {
  for (const Alike& pieces : alike()) {
    look_ahead(pieces);
  }
  plan();
  release();
  answer_.announcements = judge(task_, answer_);
  answer_.ask_again = ask_again(task_, answer_);
  return answer_;
}

}  // namespace

OutlookAnswer answer(const OutlookTask& task) {
  return Outlook(task).answer();
}

}  // namespace dryclock::compute
