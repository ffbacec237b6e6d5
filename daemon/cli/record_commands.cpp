#include <fmt/core.h>

#include <CLI/CLI.hpp>
#include <boost/json.hpp>
#include <cstdio>
#include <fstream>
#include <iostream>
#include <memory>
#include <string>

#include "cli/answer.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "domain/names.hpp"

namespace dryclock::cli {
namespace {

struct GivenRecord {
  std::string vehicle, out, paper = "a4";
  bool zip = false, yes = false;
};

// "-" is standard output.
void save(Session& session, const std::string& bytes, const std::string& path) {
  if (path == "-") {
    std::fwrite(bytes.data(), 1, bytes.size(), stdout);
    return;
  }
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  if (!file) {
    throw Failure(ExitCode::bad_input, path + ": cannot be written");
  }
  if (session.globals().json) {
    fmt::print("{}\n", boost::json::serialize(boost::json::object{{"file", path}, {"bytes", bytes.size()}}));
  } else {
    fmt::print("{}\n", session.say("client.saved", {say::text("file", path),
                                                    say::text("bytes", std::to_string(bytes.size()))}));
  }
}

void fetch(Session& session, const GivenRecord& given, const std::string& name) {
  const auto vehicle = find_any_vehicle(session, given.vehicle);
  Daemon::Query query{{"paper", given.paper}};
  if (const auto language = session.globals().language) {
    query.emplace_back("language", name_of(*language));
  }
  const auto bytes = session.daemon().get(fmt::format("/api/v1/vehicles/{}/{}", vehicle, name), query);
  save(session, bytes, given.out.empty() ? fmt::format("vehicle-{}-{}", vehicle, name) : given.out);
}

// What cannot be undone is asked for in so many words.
void forget(Session& session, const GivenRecord& given) {
  const auto vehicle = find_any_vehicle(session, given.vehicle);
  const auto kept =
      understood<Personal>(session.daemon().get(fmt::format("/api/v1/vehicles/{}/personal", vehicle)));
  const auto whose = say::text("vehicle", std::to_string(vehicle));
  if (!kept.plate && !kept.customer) {
    throw Failure(ExitCode::refused, session.say("client.nothing-kept", {whose}));
  }
  if (!given.yes) {
    const auto yes = session.say("client.yes");
    fmt::print(stderr, "{}", session.say("client.forget", {whose, say::text("yes", yes)}));
    std::string answer;
    std::getline(std::cin, answer);
    if (answer != yes) {
      throw Failure(ExitCode::refused, session.say("client.nothing-erased"));
    }
  }
  send(session, Forgotten{vehicle}, done("client.erased", {whose}));
}

}  // namespace

void add_record_commands(CLI::App& app, Action& action) {
  const auto given = std::make_shared<GivenRecord>();
  const auto add = [&](const char* name, const char* about) {
    auto* command = app.add_subcommand(name, about);
    command->add_option("vehicle", given->vehicle, "Its reference or number, also of one that has left");
    command->add_option("-o,--out", given->out, "File to write; - for standard output");
    command->add_option("--paper", given->paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
    return command;
  };
  auto* record = add("record", "The evidence of a vehicle: a PDF for people, or a zip for machines");
  record->add_flag("--zip", given->zip, "Readings, events, air, water and parameters with the PDF");
  record->callback([given, &action] {
    action = [given](Session& s) { fetch(s, *given, given->zip ? "record.zip" : "record.pdf"); };
  });
  auto* erase = app.add_subcommand("forget", "Erase a vehicle's number plate and customer's name for good");
  erase->add_option("vehicle", given->vehicle, "Its reference or number, also of one that has left")
      ->required();
  erase->add_flag("--yes", given->yes, "Do not ask");
  erase->callback([given, &action] { action = [given](Session& s) { forget(s, *given); }; });
  add("receipt", "One page for the customer when a vehicle comes in, with the newest checkpoint's hash")
      ->callback([given, &action] { action = [given](Session& s) { fetch(s, *given, "receipt.pdf"); }; });
  add("handover", "One page for the customer: what was done, what to avoid, when to come back")
      ->callback([given, &action] { action = [given](Session& s) { fetch(s, *given, "handover.pdf"); }; });
}

}  // namespace dryclock::cli
