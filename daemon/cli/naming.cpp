#include "cli/naming.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "base/number_text.hpp"
#include "cli/failure.hpp"
#include "config/nearest.hpp"

namespace dryclock::cli {
namespace {

// Of A to Z, and of the letters of Latin-1 in UTF-8: U+00C0 to U+00DE are 32 below their small ones, and
// U+00D7 is no letter.
char small(char before, char c) {
  const auto byte = static_cast<unsigned char>(c);
  const bool latin = before == '\xC3' && byte >= 0x80 && byte <= 0x9E && byte != 0x97;
  return (c >= 'A' && c <= 'Z') || latin ? static_cast<char>(byte + 0x20) : c;
}

// Lower case, with "-" for spaces: how keys are written.
std::string as_key(std::string_view name) {
  std::string key;
  char before = ' ';
  for (const char c : name) {
    key += c == ' ' ? '-' : small(before, c);
    before = c;
  }
  return key;
}

const PanelEntry* panel_named(const CatalogueView& shop, std::string_view name) {
  const auto key = as_key(name);
  if (key.empty()) {
    return nullptr;  // not every panel has a word in every language
  }
  for (const auto& panel : shop.panels) {
    if (panel.key == key || as_key(panel.label_uk) == key || as_key(panel.label_us) == key ||
        as_key(panel.label_de) == key) {
      return &panel;
    }
  }
  return nullptr;
}

bool is_on(const CatalogueView& shop, const PieceSummary& piece, std::string_view name) {
  const auto* panel = panel_named(shop, name);
  return panel != nullptr ? piece.panel == panel->key : as_key(piece.panel) == as_key(name);
}

std::string list_of_pieces(const wording::Words& words, const std::vector<FoundPiece>& pieces) {
  std::string list;
  for (const auto& [vehicle, piece] : pieces) {
    list += fmt::format("\n  {:>5}  {} on {}", piece->id, piece_label(words, *piece), vehicle->reference);
  }
  return list;
}

}  // namespace

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
  // A number at the end is the part, unless the panel's own name ends so.
  std::vector<FoundPiece> matches;
  const auto collect = [&](std::string_view panel, std::optional<std::int64_t> part) {
    std::copy_if(candidates.begin(), candidates.end(), std::back_inserter(matches), [&](const FoundPiece& f) {
      return is_on(shop, *f.piece, panel) && (!part || f.piece->part == *part);
    });
  };
  collect(name, std::nullopt);
  const auto space = name.rfind(' ');
  if (matches.empty() && space != std::string::npos) {
    if (const auto part = number_of<std::int64_t>(std::string_view(name).substr(space + 1))) {
      collect(std::string_view(name).substr(0, space), part);
    }
  }
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

std::string find_panel(const CatalogueView& shop, const std::string& name, bool own_words) {
  if (const auto* panel = panel_named(shop, name)) {
    return panel->key;
  }
  if (own_words) {
    return name;
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
