#include <bit>
#include <cstdint>

#include <fmt/format.h>

#include "nights/night.hpp"

namespace dryclock::nights {
namespace {

std::string bits(double value) {
  return fmt::format("{:016x} ", std::bit_cast<std::uint64_t>(value));
}
std::string bits(const std::optional<double>& value) {
  return value ? bits(*value) : "- ";
}
std::string bits(Time t) {
  return fmt::format("{} ", to_unix_ms(t));
}
std::string bits(const std::optional<Time>& t) {
  return t ? bits(*t) : "- ";
}
std::string bits(const models::Quantiles& q) {
  return bits(q.low) + bits(q.likely) + bits(q.high);
}
std::string bits(const Fact& fact) {
  std::string out = fact.key;
  for (const auto& value : fact.values) {
    out += " " + value.name + "=" + value.text + bits(value.number) + bits(value.at);
    for (const auto& one : value.facts) {
      out += "(" + bits(one) + ")";
    }
  }
  return out;
}
std::string bits(const AlertSummary& alert) {
  return alert.id + "|" + bits(alert.what) + "|" + bits(alert.advice) + "|" + bits(alert.raised) +
         bits(alert.cleared) + bits(alert.acknowledged) + fmt::format("{}\n", static_cast<int>(alert.level));
}

std::string bits(const Said& said) {
  return bits(said.look) + bits(said.ready) + (said.by_word ? "word " : "");
}

std::string bits(const PieceSummary& piece) {
  std::string out = fmt::format("piece {} {} ", piece.id, piece.panel) + bits(piece.laid) +
                    bits(piece.as_of) + bits(piece.standard_hours);
  for (const auto& milestone : piece.milestones) {
    out += bits(Said{milestone.look, milestone.announced, milestone.by_word}) +
           (milestone.needed ? "needed " : "- ");
  }
  for (const auto& early : piece.early_steps) {
    out += fmt::format("{} {} ", early.event, early.step) + bits(early.still_wet) + bits(early.probability);
  }
  return out + "\n";
}

std::string bits(const std::vector<HistoryPoint>& history) {
  std::string out;
  for (const auto& point : history) {
    out += bits(point.at) + bits(point.pace);
    for (const auto& zone : point.zones) {
      out += bits(zone.water) + bits(zone.excess) + bits(zone.bond);
    }
  }
  return out + "\n";
}

}  // namespace

std::string fingerprint(const engine::Engine& engine) {
  const auto board = engine.board();
  std::string out = bits(board.now) + fmt::format("{}\n", board.applied);
  for (const auto& bay : board.bays) {
    out += bay.name + " " + bits(bay.air_c) + bits(bay.rh_pct) + bits(bay.panel_c) + bits(bay.dew_point_c) +
           bits(bay.pace) + bits(bay.as_of);
    for (const auto& sensor : bay.sensors) {
      out += sensor.sensor + " " + bits(sensor.value) + bits(sensor.at);
      for (const auto count : sensor.counts) {
        out += fmt::format("{} ", count);
      }
    }
    out += "\n";
  }
  for (const auto& vehicle : board.vehicles) {
    out += fmt::format("vehicle {} {} {} ", vehicle.id, vehicle.reference, vehicle.bay) +
           bits(Said{vehicle.release_look, vehicle.release_ready, false}) + "\n";
    for (const auto& piece : vehicle.to_lay) {
      out += fmt::format("to lay {} {}/{}\n", piece.panel, piece.part, piece.parts);
    }
    for (const auto& piece : vehicle.pieces) {
      out += bits(piece) + bits(engine.history(piece.id, std::chrono::hours{6}).value());
    }
  }
  for (const auto& plate : engine.plates()) {
    out += fmt::format("plate {} {} {} {} ", plate.id, plate.seen.size(), plate.known, plate.over);
    for (const auto& strip : plate.zones) {
      out += bits(strip.tenth_chance) + bits(strip.clear_chance) + (strip.look ? "look " : "- ");
    }
    out += "\n";
  }
  for (const auto& alert : board.alerts) {
    out += engine::follows_from_rows(alert.rule) ? bits(alert) : "";
  }
  for (const auto count : board.counters.verdict) {
    out += fmt::format("{} ", count);
  }
  return out;
}

std::string fingerprint(const std::vector<ScreenedReading>& rows) {
  std::string out;
  for (const auto& row : rows) {
    out += fmt::format("{} {} ", row.seq, static_cast<int>(row.verdict)) + bits(row.reading.value);
  }
  return out;
}

std::string fingerprint(const std::vector<MilestoneRow>& rows) {
  std::string out;
  for (const auto& row : rows) {
    out += fmt::format("{} {} {} ", row.piece, static_cast<int>(row.which), static_cast<int>(row.word)) +
           bits(row.at) + bits(row.probability) + (row.by_word ? "word " : "- ");
  }
  return out;
}

std::string fingerprint(const std::vector<ReleaseRow>& rows) {
  std::string out;
  for (const auto& row : rows) {
    out += fmt::format("{} {} ", row.vehicle, static_cast<int>(row.word)) + bits(row.at);
  }
  return out;
}

std::string fingerprint(const std::vector<GapRow>& rows) {
  std::string out;
  for (const auto& row : rows) {
    out += row.bay + std::to_string(static_cast<int>(row.why)) + bits(row.from) + bits(row.to);
  }
  return out;
}

std::string fingerprint(const std::vector<AlertRow>& rows) {
  std::string out;
  for (const auto& row : rows) {
    if (engine::follows_from_rows(row.alert.rule)) {
      out += fmt::format("{} ", static_cast<int>(row.step)) + bits(row.alert);
    }
  }
  return out;
}

}  // namespace dryclock::nights
