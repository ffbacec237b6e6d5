#include "record/machine_files.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

#include "base/sha256.hpp"
#include "record/export.hpp"
#include "record/pdf.hpp"
#include "record/shop_story.hpp"
#include "support/csv.hpp"

namespace dryclock::record {
namespace {

std::string bytes_of(const std::vector<File>& files, const std::string& name) {
  const auto found = std::ranges::find(files, name, &File::name);
  REQUIRE_MESSAGE(found != files.end(), name);
  return found->bytes;
}

std::size_t lines(const std::string& text) {
  return static_cast<std::size_t>(std::ranges::count(text, '\n'));
}

}  // namespace

TEST_CASE("the archive unpacks, and sha256sum verifies it") {
  const auto& record = eventful_record();
  const auto archive = zip(record, Paper::a4);
  REQUIRE(archive.has_value());
  const test::ScratchFolder folder;
  write_file(folder / "it.zip", archive.value());
  // Info-ZIP's own check, then GNU coreutils on what comes out.
  (void)output_of({"unzip", "-tq", folder / "it.zip"});
  (void)output_of({"unzip", "-q", folder / "it.zip", "-d", folder / "out"});
  const auto inside = folder / "out" / file_stem(record);
  const auto checked = output_of({"sh", "-c", "cd \"$1\" && sha256sum -c --strict MANIFEST", "sh", inside});
  CHECK(checked.find("record.pdf: OK") != std::string::npos);
  CHECK(checked.find("readings.csv: OK") != std::string::npos);
  // MANIFEST leaves nothing out but itself.
  const auto listed = lines(output_of({"sh", "-c", "cd \"$1\" && cat MANIFEST", "sh", inside}));
  CHECK(listed + 1 == lines(output_of({"find", inside, "-type", "f"})));
  // And tells what was altered.
  write_file(inside / "readings.csv", "seq\n");
  const auto altered =
      output_of({"sh", "-c", "cd \"$1\" && sha256sum -c MANIFEST 2>/dev/null || true", "sh", inside});
  CHECK(altered.find("readings.csv: FAILED") != std::string::npos);
}

TEST_CASE("settings that stood in no row are disclosed as assumed, and only those") {
  Record record = eventful_record();
  record.assumed.reset();
  CHECK(bytes_of(machine_files(record), "disclosures.csv").find("settings-assumed") == std::string::npos);
  record.assumed = {2400, record.to};
  CHECK(bytes_of(machine_files(record), "disclosures.csv").find("before row 2400 they stood in no row") !=
        std::string::npos);
  CHECK(squeezed(text_of_pdf(pdf(record, Paper::a4).value()))
            .find(squeezed("Settings before row 2400 are assumed: they stood in no row then.")) !=
        std::string::npos);
}

// The commitment is what coreutils finds over the file: salt, then text.
TEST_CASE("plate and customer go along as what their commitments were made of") {
  Record record = eventful_record();
  record.personal = {{"plate", std::string(32, '\x01'), "DEMO 9"}};
  const auto files = machine_files(record);
  CHECK(bytes_of(files, "personal/plate") == std::string(32, '\x01') + "DEMO 9");
  CHECK(std::ranges::find(files, "personal/customer", &File::name) == files.end());
  const test::ScratchFolder folder;
  write_file(folder / "plate", bytes_of(files, "personal/plate"));
  CHECK(
      output_of({"sha256sum", folder / "plate"}).starts_with(sha256_hex(std::string(32, '\x01') + "DEMO 9")));
  CHECK(output_of({"tail", "-c", "+33", folder / "plate"}) == "DEMO 9");
}

TEST_CASE("the archive is the same every time and everywhere") {
  const auto once = zip(eventful_record(), Paper::a4);
  // Made anew from the journal, as a machine in another zone would.
  const char* zone = std::getenv("TZ");
  const std::string before = zone == nullptr ? "" : zone;
  ::setenv("TZ", "Pacific/Auckland", 1);
  ::tzset();
  const auto again = zip(eventful().record(), Paper::a4);
  zone == nullptr ? ::unsetenv("TZ") : ::setenv("TZ", before.c_str(), 1);
  ::tzset();
  REQUIRE(once.has_value());
  CHECK(once.value() == again.value());
}

TEST_CASE("files hold a row for everything") {
  const auto& record = eventful_record();
  const auto files = machine_files(record);
  CHECK(lines(bytes_of(files, "readings.csv")) == record.readings.size() + 1);
  CHECK(lines(bytes_of(files, "events.ndjson")) == record.events.size());
  // Two days, eight hours and a half: a row a minute.
  const auto minutes = (record.to - record.from) / std::chrono::minutes{1};
  CHECK(lines(bytes_of(files, "air.csv")) == static_cast<std::size_t>(minutes) + 1);
  CHECK(bytes_of(files, "disclosures.csv").find("gap,") != std::string::npos);
  CHECK(bytes_of(files, "disclosures.csv").find("clock-step,") != std::string::npos);
  CHECK(bytes_of(files, "disclosures.csv").find("implausible") != std::string::npos);
  CHECK(bytes_of(files, "disclosures.csv").find("not-json") != std::string::npos);
  CHECK(bytes_of(files, "readings.csv").find("212,implausible") != std::string::npos);
}

// The words are in the language that the shop had then: whoever reads the other columns finds the same.
TEST_CASE("what was said stands in a column of its own in the files, and in no other") {
  const auto cut = [](const std::vector<File>& files, const std::string& name, std::set<std::string>& said) {
    std::istringstream lines(std::ranges::find(files, name, &File::name)->bytes);
    std::vector<std::vector<std::string>> rows;
    for (std::string line; std::getline(lines, line);) {
      auto cells = test::cells_of(line);
      REQUIRE(cells.size() > 2);
      said.insert(cells[cells.size() - 2]);
      cells.resize(cells.size() - 2);
      rows.push_back(std::move(cells));
    }
    return rows;
  };
  const ShopStory story(ShopStory::Kind::kept);
  const Record english = story.record();
  Record german = english;
  for (auto& piece : german.pieces) {
    for (auto& step : piece.steps) {
      step.held_by = step.held_by.words.empty() ? step.held_by : ready_words("Kante: noch 3 g/m²");
    }
  }
  for (auto& alert : german.alerts) {
    alert.alert.text = "Tau ist nahe.";
  }
  const auto files = machine_files(english), files_in_german = machine_files(german);
  for (const auto* name : {"pieces.csv", "alerts.csv"}) {
    std::set<std::string> said, said_in_german;
    CHECK(cut(files, name, said) == cut(files_in_german, name, said_in_german));
    CHECK(said != said_in_german);
    CHECK(
        said_in_german.contains(name == std::string{"alerts.csv"} ? "Tau ist nahe." : "Kante: noch 3 g/m²"));
  }
}

TEST_CASE("parameters are JSON, and every source is named") {
  const auto text = bytes_of(machine_files(eventful_record()), "parameters.json");
  const test::ScratchFolder folder;
  write_file(folder / "parameters.json", text);
  // Python's own JSON reader.
  const auto seen =
      output_of({"python3", "-c",
                 "import json,sys\n"
                 "for p in json.load(open(sys.argv[1]))['parameters']:\n"
                 "  assert p['source'] and p['name'] and isinstance(p['value'], (int, float)), p\n"
                 "  print(p['name'])\n",
                 folder / "parameters.json"});
  CHECK(seen.find("film baseline, topcoat: permeability at 21 °C") != std::string::npos);
  CHECK(seen.find("film open as measured, lot L-0815, film: thickness") != std::string::npos);
  CHECK(seen.find("as the shop had shown by then") != std::string::npos);
}

TEST_CASE("a name for the file holds nothing that a shell or a system minds") {
  Record record = eventful_record();
  record.reference = "../a b/\xC3\xA9\"$";
  const auto number = "record-" + std::to_string(record.vehicle) + "-";
  CHECK(file_stem(record) == number + "---a-b-----");
  // Of a reference as long as may be sent: file systems take names of 255 bytes.
  record.reference = std::string(2000, 'x');
  CHECK(file_stem(record).starts_with(number + "xxx"));
  CHECK(file_stem(record).size() <= 255);
}

}  // namespace dryclock::record
