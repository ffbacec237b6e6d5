#include "app/gone.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <map>
#include <set>
#include <utility>

#include "app/core.hpp"
#include "app/startup.hpp"
#include "domain/names.hpp"
#include "store/reader.hpp"
#include "wire/setup_json.hpp"

namespace dryclock::app {
namespace {

std::string words(const VehicleSummary& vehicle) {
  return fmt::format("vehicle {} ({})", vehicle.id, vehicle.reference);
}

const std::string& key_of(const PieceSummary& piece, CatalogueKind kind) {
  return kind == CatalogueKind::film       ? piece.film
         : kind == CatalogueKind::solution ? piece.solution
                                           : piece.panel;
}

// By kind and key: the pieces on the vehicle that have it.
std::map<std::pair<CatalogueKind, std::string>, std::string> gone_on(const VehicleSummary& vehicle) {
  std::map<std::pair<CatalogueKind, std::string>, std::string> found;
  for (const auto& piece : vehicle.pieces) {
    if (piece.removed || piece.replaced_by) {
      continue;
    }
    for (const auto kind : piece.gone) {
      auto& list = found[{kind, key_of(piece, kind)}];
      list += fmt::format("{}{} (piece {})", list.empty() ? "" : ", ", piece.panel, piece.id);
    }
  }
  return found;
}

}  // namespace

std::vector<std::string> gone_and_in_use(const Board& board) {
  std::set<std::string> bays;
  for (const auto& bay : board.bays) {
    if (bay.gone) {
      bays.insert(bay.name);
    }
  }
  std::vector<std::string> lines;
  for (const auto& vehicle : board.vehicles) {
    if (vehicle.released) {
      continue;
    }
    if (bays.contains(vehicle.bay)) {
      lines.push_back(
          fmt::format("bay '{}' is gone from the files: {} stands in it", vehicle.bay, words(vehicle)));
    }
    for (const auto& [what, pieces] : gone_on(vehicle)) {
      lines.push_back(fmt::format("{} '{}' is gone from the files: {} has it on {}", name_of(what.first),
                                  what.second, words(vehicle), pieces));
    }
  }
  return lines;
}

Result<std::vector<std::string>> compare_with_journal(const Config& config) {
  std::error_code ignored;
  if (!std::filesystem::exists(config.store.path, ignored)) {
    return std::vector<std::string>{};
  }
  const auto reader = store::Reader::open(config.store.path);
  if (!reader) {
    return reader.error();
  }
  Core core = offline_core(config, [](const Effects&) {});
  const auto done = replay_journal(core, *reader);
  if (!done) {
    return done.error();
  }
  JournalRow row;
  row.seq = done->last + 1;
  row.kind = RowKind::configured;
  row.message.payload = wire::to_json(Configured{{}, {}, false, {}, config.setup});
  row.message.received_at = core.engine().board().now;
  core.replay(std::move(row));
  return gone_and_in_use(core.engine().board());
}

}  // namespace dryclock::app
