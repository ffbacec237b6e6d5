#include "sealed_shop.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <sstream>

#include "wire/event_json.hpp"

namespace dryclock::seal {

namespace fs = std::filesystem;

std::optional<EventDetail> read_event(const JournalRow& row) {
  auto event = wire::parse_event(row.message.payload, row.message.received_at);
  return event.has_value() ? std::optional{std::move(event).value().detail} : std::nullopt;
}

SealedShop::SealedShop()
    : writer_(store::Writer::open({.path = scratch_ / "a.db", .ballast_bytes = 0}, {}, {}).value()) {}

ChainOptions SealedShop::options() const {
  return {.database = scratch_ / "a.db", .folder = folder(), .keys = keys(), .read_event = read_event};
}

Seq SealedShop::append(store::Entry entry) {
  return writer_->append(std::move(entry), Millis{30'000}).value().seq;
}

Seq SealedShop::reading(const std::string& topic, const std::string& payload, Time at) {
  return append({.kind = RowKind::message,
                 .message = {.topic = topic, .payload = payload, .received_at = at, .qos = 1},
                 .key = {}});
}

Seq SealedShop::event(const std::string& json, Time at) {
  return append(
      {.kind = RowKind::event, .message = {.topic = {}, .payload = json, .received_at = at}, .key = {}});
}

Seq SealedShop::own(RowKind kind, Time at) {
  return append({.kind = kind, .message = {.topic = {}, .payload = {}, .received_at = at}, .key = {}});
}

void SealedShop::live(int hours) {
  auto chain = open();
  for (int hour = 0; hour < hours; ++hour) {
    const auto start = evening + std::chrono::hours{hour};
    if (hour < 2) {
      vehicles_.push_back(event(
          fmt::format(R"({{"what":"vehicle-in","reference":"demo-{}","bay":"front"}})", hour + 1), start));
    }
    for (int minute = 1; minute <= 4; ++minute) {
      const auto at = start + std::chrono::minutes{minute};
      reading("bay/front", fmt::format(R"({{"temperature":{}.5,"humidity":48}})", 18 + minute), at);
      reading("bay/back", fmt::format("{}", 20 + minute), at);
    }
    own(RowKind::tick, start + std::chrono::minutes{5});
    const auto vehicle = vehicles_.back();
    event(fmt::format(R"({{"what":"note","vehicle":{},"note":"hour {}"}})", vehicle, hour), start);
    chain.seal(start + std::chrono::minutes{6}, "hourly").value();
  }
}

Wanted first_vehicles_part(const SealedShop& shop, Seq last) {
  return {.streams = {topic_stream("bay/front"), vehicle_stream(shop.first_vehicle()), daemon_stream()},
          .rows = {shop.first_vehicle(), last}};
}

std::string content(const fs::path& file) {
  std::ostringstream bytes;
  bytes << std::ifstream(file, std::ios::binary).rdbuf();
  return bytes.str();
}

void overwrite(const fs::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary | std::ios::trunc) << bytes;
}

std::vector<std::string> files_of(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_regular_file()) {
      names.push_back(fs::relative(entry.path(), folder).generic_string());
    }
  }
  std::ranges::sort(names);
  return names;
}

std::vector<std::string> lines_of(const fs::path& folder, Seq seq) {
  const auto start = fmt::format("{{\"seq\":{},", seq);
  std::vector<std::string> lines;
  for (const auto& name : files_of(folder / "segments")) {
    std::istringstream text(content(folder / "segments" / name));
    for (std::string line; std::getline(text, line);) {
      if (line.starts_with(start)) {
        lines.push_back(line);
      }
    }
  }
  return lines;
}

std::string findings(const Report& report) {
  std::string text;
  for (const auto& finding : report.findings) {
    text += to_string(finding) + "\n";
  }
  return text;
}

}  // namespace dryclock::seal
