#include "cli/naming.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "base/number_text.hpp"
#include "cli/failure.hpp"
#include "config/nearest.hpp"
#include "domain/names.hpp"
#include "domain/piece_fact.hpp"

namespace dryclock::cli {
namespace {

void add(std::vector<std::string>& words, std::string_view text) {
  for (auto& word : name_words(text)) {
    words.push_back(std::move(word));
  }
}

// A panel's own words in each language, by its key last; one that is in no catalogue by itself.
std::vector<std::vector<std::string>> panel_words(const CatalogueView& shop, const std::string& key) {
  const auto panel = std::ranges::find(shop.panels, key, &PanelEntry::key);
  std::vector<std::vector<std::string>> all;
  if (panel != shop.panels.end()) {
    for (const auto* label : {&panel->label_uk, &panel->label_us, &panel->label_de}) {
      if (!label->empty()) {  // not every panel has a word in every language
        all.push_back(name_words(*label));
      }
    }
  }
  all.push_back(name_words(key));
  return all;
}

// "left", and what else people here say for it: "nearside".
void add_side(std::vector<std::string>& more, const wording::Words& words, Side side) {
  const std::string key{name_of(side)};
  add(more, key);
  if (const auto said = words.word("side", side); said != key) {
    add(more, said);
  }
  if (key.starts_with("left")) {
    add(more, words.say("client.also-left"));
  } else if (key.starts_with("right")) {
    add(more, words.say("client.also-right"));
  }
}

// A panel, with its side.
struct Spot {
  std::string panel;
  std::optional<Side> side;
};

std::vector<Spot> all_spots(const CatalogueView& shop) {
  std::vector<Spot> spots;
  for (const auto& panel : shop.panels) {
    for (const auto side : panel.sides.value_or(std::vector<Side>{})) {
      spots.push_back({panel.key, side});
    }
    if (!panel.sides || panel.sides->empty()) {
      spots.push_back({panel.key, std::nullopt});
    }
  }
  return spots;
}

std::string list_of_pieces(const wording::Words& words, const std::vector<FoundPiece>& pieces) {
  std::string list;
  for (const auto& [vehicle, piece] : pieces) {
    list += fmt::format("\n  {:>5}  {} on {}", piece->id, piece_label(words, *piece), vehicle->reference);
  }
  return list;
}

}  // namespace

std::vector<Naming> namings_of(const CatalogueView& shop, const wording::Words& words,
                               const PlannedPiece& piece) {
  std::vector<std::string> more{std::to_string(piece.part)};
  if (piece.side) {
    add_side(more, words, *piece.side);
  }
  if (!piece.place.empty()) {
    add(more, piece.place);
    add(more, words.value(place_value(piece.place)));
  }
  std::vector<Naming> namings;
  for (auto& own : panel_words(shop, piece.panel)) {
    namings.push_back({std::move(own), more});
  }
  return namings;
}

std::string take_vehicle(const Board& board, std::vector<std::string>& words, const std::string& vehicle) {
  if (!vehicle.empty() || words.size() < 2) {
    return vehicle;
  }
  const auto named = std::ranges::find_if(board.vehicles, [&](const VehicleSummary& one) {
    return in_shop(one) && (one.reference == words.front() || std::to_string(one.id) == words.front());
  });
  if (named == board.vehicles.end()) {
    return {};
  }
  auto first = std::move(words.front());
  words.erase(words.begin());
  return first;
}

bool in_shop(const VehicleSummary& vehicle) {
  return !vehicle.released;
}

bool laid_now(const PieceSummary& piece) {
  return !piece.removed && !piece.replaced_by;
}

const VehicleSummary& find_vehicle(const Board& board, const std::string& name) {
  std::string here;
  const VehicleSummary* only = nullptr;
  int in_the_shop = 0;
  const auto number = number_of<std::int64_t>(name);
  // A reference may be used again after its vehicle has left: the one in the shop is meant.
  const VehicleSummary* found = nullptr;
  for (const auto& vehicle : board.vehicles) {
    if (in_shop(vehicle)) {
      ++in_the_shop;
      only = &vehicle;
      here += fmt::format("\n  {:>5}  {}", vehicle.id, vehicle.reference);
    }
    if (vehicle.reference == name && (found == nullptr || in_shop(vehicle))) {
      found = &vehicle;
    }
  }
  if (name.empty()) {
    if (in_the_shop == 1) {
      return *only;
    }
    throw Failure(ExitCode::usage,
                  in_the_shop == 0 ? "no vehicle is in the shop; bring one in with: dryclock vehicle in"
                                   : "several vehicles are in the shop, say which with --vehicle:" + here);
  }
  if (found == nullptr && number) {
    const auto at = std::find_if(board.vehicles.begin(), board.vehicles.end(),
                                 [&](const VehicleSummary& v) { return v.id == *number; });
    found = at == board.vehicles.end() ? nullptr : &*at;
  }
  if (found == nullptr) {
    throw Failure(ExitCode::usage,
                  fmt::format("no vehicle \"{}\"{}", name,
                              here.empty() ? "; none is in the shop" : ". In the shop:" + here));
  }
  return *found;
}

FoundPiece find_piece(const Board& board, const CatalogueView& shop, const wording::Words& words,
                      const std::string& name, const std::string& vehicle) {
  if (const auto number = number_of<std::int64_t>(name)) {
    for (const auto& v : board.vehicles) {
      for (const auto& p : v.pieces) {
        if (p.id == *number) {
          return {&v, &p};
        }
      }
    }
    throw Failure(ExitCode::usage, fmt::format("no piece {}", *number));
  }
  const VehicleSummary* one = vehicle.empty() ? nullptr : &find_vehicle(board, vehicle);
  std::vector<FoundPiece> candidates;
  for (const auto& v : board.vehicles) {
    if (one != nullptr ? &v != one : !in_shop(v)) {
      continue;
    }
    for (const auto& p : v.pieces) {
      if (laid_now(p)) {
        candidates.push_back({&v, &p});
      }
    }
  }
  const auto matches = best_fits(name, candidates, [&](const FoundPiece& candidate) {
    return namings_of(shop, words, name_of_piece(*candidate.piece));
  });
  if (matches.size() == 1) {
    return matches.front();
  }
  if (matches.empty()) {
    throw Failure(ExitCode::usage,
                  fmt::format("no piece \"{}\" is laid{}", name,
                              candidates.empty() ? "" : ". Laid now:" + list_of_pieces(words, candidates)));
  }
  throw Failure(ExitCode::usage, fmt::format("\"{}\" may be any of these, say its number:{}", name,
                                             list_of_pieces(words, matches)));
}

PlannedPiece find_panel(const CatalogueView& shop, const wording::Words& words, const std::string& name,
                        bool own_words) {
  const auto named = [](const Spot& spot) { return PlannedPiece{spot.panel, 1, 1, spot.side, {}}; };
  const auto matches = best_fits(name, all_spots(shop),
                                 [&](const Spot& spot) { return namings_of(shop, words, named(spot)); });
  const auto is_exact = [&](const Spot& spot) {
    return std::ranges::any_of(namings_of(shop, words, named(spot)), [&](const Naming& naming) {
      return fit(name_words(name), naming) == Fit::exact;
    });
  };
  if (matches.size() == 1 && (!own_words || is_exact(matches.front()))) {
    return named(matches.front());
  }
  if (own_words) {
    return {name, 1, 1, {}, {}};
  }
  if (!matches.empty()) {
    std::string list;
    for (const auto& spot : matches) {
      list += "\n  " + words.piece(named(spot));
    }
    throw Failure(ExitCode::usage, fmt::format("\"{}\" may be any of these:{}", name, list));
  }
  std::vector<std::string_view> known;
  for (const auto& panel : shop.panels) {
    known.emplace_back(panel.key);
    known.emplace_back(panel.label_uk);
    known.emplace_back(panel.label_us);
    if (!panel.label_de.empty()) {
      known.emplace_back(panel.label_de);
    }
  }
  throw Failure(
      ExitCode::usage,
      fmt::format("no panel \"{}\" in the catalogue{} To lay it under your own words: --own-words", name,
                  config::nearest(name, known).empty() ? "." : config::did_you_mean(name, known)));
}

}  // namespace dryclock::cli
