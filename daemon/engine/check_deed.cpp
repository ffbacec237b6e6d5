#include "engine/check_deed.hpp"

#include <algorithm>
#include <concepts>
#include <iterator>
#include <string>

#include "domain/piece_fact.hpp"
#include "engine/one_panel.hpp"
#include "engine/refusals.hpp"

namespace dryclock::engine {
namespace {

// The pieces that an event is about.
std::vector<PieceId> pieces_of(const EventDetail& detail) {
  std::vector<PieceId> all;
  std::visit(
      [&]<class Detail>(const Detail& what) {
        if constexpr (std::same_as<Detail, Lay>) {
          all.push_back(what.replaces.value_or(0));
          std::ranges::transform(what.beside, std::back_inserter(all), &Beside::piece);
        } else if constexpr (requires { PieceId{what.piece}; }) {
          all.push_back(what.piece);
        } else if constexpr (std::same_as<Detail, LampSwitched>) {
          all.push_back(what.piece.value_or(0));
        }
      },
      detail);
  return all;
}

// The piece that is no longer on the vehicle after it; 0: none.
PieceId ended_by(const EventDetail& detail) {
  const auto* lay = std::get_if<Lay>(&detail);
  const auto* removed = std::get_if<PieceRemoved>(&detail);
  return lay != nullptr ? lay->replaces.value_or(0) : removed != nullptr ? removed->piece : 0;
}

// Nothing that may be told of the piece beside it depends on it.
bool leaves_as_it_was(const EventDetail& detail) {
  return std::holds_alternative<Inspected>(detail) || std::holds_alternative<LampSwitched>(detail);
}

// A piece of both, of which the later one cannot be told so any more; 0: there is none.
PieceId piece_between(const EventDetail& earlier, const EventDetail& later) {
  const auto before = pieces_of(earlier);
  for (const PieceId piece : pieces_of(later)) {
    const bool of_both = piece != 0 && std::ranges::find(before, piece) != before.end();
    if (of_both && (ended_by(earlier) == piece || (!leaves_as_it_was(earlier) && !leaves_as_it_was(later)))) {
      return piece;
    }
  }
  return 0;
}

}  // namespace

Allowed check_together(const std::vector<Event>& events) {
  for (std::size_t i = 0; i < events.size(); ++i) {
    const auto* lay = std::get_if<Lay>(&events[i].detail);
    const auto at = "/events/" + std::to_string(i);
    for (std::size_t k = 0; k < i; ++k) {
      if (const auto piece = piece_between(events[k].detail, events[i].detail); piece != 0) {
        return Refusal{{"refusals.twice-in-deed", {numbered("piece", piece)}}, at};
      }
      const auto* other = std::get_if<Lay>(&events[k].detail);
      if (lay != nullptr && other != nullptr && other->vehicle == lay->vehicle &&
          is_in_the_way(*other, *lay)) {
        return Refusal{{"refusals.laid-twice-in-deed", {say::fact("piece", piece_fact(name_of_piece(*lay)))}},
                       at + "/panel"};
      }
    }
  }
  return {};
}

}  // namespace dryclock::engine
