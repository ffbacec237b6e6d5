#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <boost/json/serialize.hpp>
#include <boost/json/string.hpp>
#include <memory>

#include "base/sha256.hpp"
#include "cli/commands.hpp"
#include "cli/failure.hpp"
#include "cli/table.hpp"
#include "seal/verify.hpp"

namespace dryclock::cli {
namespace {

struct GivenSeal {
  std::string folder, anchor, key, authority;
};

std::string json_text(const std::string& text) {
  return boost::json::serialize(boost::json::string(text));
}

std::string as_json(const seal::Report& report) {
  std::string findings;
  for (const auto& [what, where] : report.findings) {
    findings += fmt::format("{}{{\"where\":{},\"what\":{}}}", findings.empty() ? "" : ",", json_text(where),
                            json_text(what));
  }
  std::string last = "null";
  if (report.last) {
    last = fmt::format("{{\"number\":{},\"sha256\":\"{}\",\"at\":\"{}\",\"seq\":{}}}", report.last->number,
                       report.last->sha256, to_rfc3339(report.last->at), report.last->seq);
  }
  std::string stamps;
  for (const auto& stamp : report.stamps) {
    stamps += fmt::format("{}{{\"checkpoint\":{},\"at\":\"{}\"}}", stamps.empty() ? "" : ",", stamp.number,
                          to_rfc3339(stamp.at));
  }
  return fmt::format(
      "{{\"set_back\":[{}],\"findings\":[{}],\"checkpoints\":{},\"segments\":{},\"withheld\":{},\"rows\":{},"
      "\"key_sha256\":\"{}\","
      "\"last\":{},\"time_stamps\":[{}]}}\n",
      fmt::join(report.set_back, ","), findings, report.checkpoints, report.segments, report.withheld,
      report.rows, report.key_sha256, last, stamps);
}

std::string as_text(const seal::Report& report, const GivenSeal& given, const wording::Words& words) {
  constexpr std::size_t name_width = 17;
  std::string text;
  for (const auto& finding : report.findings) {
    text += words.say("client-paper.wrong", {say::text("what", to_string(finding))}) + "\n";
  }
  text += words.say("client-paper.counts",
                    {say::count("checkpoints", report.checkpoints), say::count("segments", report.segments),
                     say::count("rows", report.rows), say::count("withheld", report.withheld)}) +
          "\n";
  Named lines;
  const auto add = [&](std::string_view key, std::string what) {
    lines.emplace_back(words.say(key), std::move(what));
  };
  const auto number = [](const auto& n) { return say::text("number", std::to_string(n)); };
  if (report.last) {
    add("client-paper.last-checkpoint",
        words.say("client-paper.checkpoint",
                  {number(report.last->number), say::text("at", to_rfc3339(report.last->at)),
                   say::text("row", std::to_string(report.last->seq))}) +
            "\n" + report.last->sha256);
  }
  add("client-paper.first-key", report.key_sha256);
  if (!report.set_back.empty()) {
    add("client-paper.set-back",
        words.say("client-paper.before-checkpoint",
                  {say::text("numbers", fmt::format("{}", fmt::join(report.set_back, ", ")))}));
  }
  for (const auto& stamp : report.stamps) {
    add("client-paper.time-stamp",
        words.say(given.authority.empty() ? "client-paper.stamp-unchecked" : "client-paper.stamp",
                  {number(stamp.number), say::text("at", to_rfc3339(stamp.at))}));
  }
  text += named_lines(lines, 0, name_width);
  if (!report.findings.empty()) {
    return text;
  }
  text += words.say("client-paper.sound") + "\n";
  return given.anchor.empty() && given.key.empty() ? text + words.say("client-paper.needs-a-hash") + "\n"
                                                   : text;
}

void verify(const Session& session, const GivenSeal& given) {
  for (const auto& hash : {given.anchor, given.key}) {
    if (!hash.empty() && !is_sha256_hex(hash)) {
      throw Failure(ExitCode::usage, fmt::format("\"{}\" is not a SHA-256: 64 digits, 0-9 and a-f", hash));
    }
  }
  const auto words = session.words_alone();
  const auto report = seal::verify(
      given.folder, {.anchor = given.anchor, .key_sha256 = given.key, .stamp_authority = given.authority});
  if (!report) {
    throw Failure(ExitCode::bad_input, to_string(report.error()));
  }
  fmt::print("{}", session.globals().json ? as_json(report.value()) : as_text(report.value(), given, words));
  if (const auto count = report.value().findings.size(); count > 0) {
    throw Failure(ExitCode::refused, words.say("client-paper.findings", {say::count("n", count)}));
  }
}

}  // namespace

void add_verify_command(CLI::App& app, Action& action) {
  const auto given = std::make_shared<GivenSeal>();
  auto* command =
      app.add_subcommand("verify", "Check that a record's rows are the sealed ones, without the daemon");
  command
      ->add_option("folder", given->folder,
                   "Folder with the checkpoints: of a record, or the shop's own seal")
      ->required();
  command->add_option(
      "--anchor", given->anchor,
      "SHA-256 of a checkpoint, as printed on a receipt: it must be among those in the folder");
  command->add_option("--key", given->key, "SHA-256 of the first key's file, as printed on a receipt");
  command
      ->add_option("--authority", given->authority,
                   "File with the certificates of the time stamping authority: its stamps are checked")
      ->check(CLI::ExistingFile);
  command->callback([given, &action] { action = [given](Session& s) { verify(s, *given); }; });
}

}  // namespace dryclock::cli
