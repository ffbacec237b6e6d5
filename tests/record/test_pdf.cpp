#include "record/pdf.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <sstream>

#include "record/handover.hpp"
#include "record/machine_files.hpp"
#include "record/receipt.hpp"
#include "record/shop_story.hpp"
#include "record/wording.hpp"

namespace dryclock::record {
namespace {

std::string file(const std::string& name) {
  for (const auto& one : machine_files(eventful_record())) {
    if (one.name == name) {
      return one.bytes;
    }
  }
  FAIL(name);
  return {};
}

// Cells of a CSV without quoted fields, and without its head.
std::vector<std::vector<std::string>> cells(const std::string& csv) {
  std::vector<std::vector<std::string>> out;
  std::istringstream text(csv);
  std::string line;
  std::getline(text, line);
  while (std::getline(text, line)) {
    out.emplace_back();
    std::istringstream row(line);
    for (std::string cell; std::getline(row, cell, ',');) {
      out.back().push_back(cell);
    }
  }
  return out;
}

const std::string& shown() {
  static const std::string text = squeezed(text_of_pdf(pdf(eventful_record(), Paper::a4).value()));
  return text;
}

bool shows(const std::string& words) {
  return shown().find(squeezed(words)) != std::string::npos;
}

std::string one_decimal(double value) {
  std::array<char, 32> text{};
  std::snprintf(text.data(), text.size(), "%.1f", value);
  return text.data();
}

}  // namespace

// DRYCLOCK_PAGES=folder leaves the pages there, to be looked at.
TEST_CASE("pages are well-formed and the same every time") {
  const char* look = std::getenv("DRYCLOCK_PAGES");
  const auto& record = eventful_record();
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const auto once = pdf(record, paper);
    REQUIRE(once.has_value());
    CHECK(once.value() == pdf(record, paper).value());
    const auto sheet = handover_pdf(record, paper);
    REQUIRE(sheet.has_value());
    CHECK(sheet.value() == handover_pdf(record, paper).value());
    const test::ScratchFolder folder;
    write_file(folder / "record.pdf", once.value());
    write_file(folder / "handover.pdf", sheet.value());
    const auto receipt = receipt_pdf(record, paper);
    REQUIRE(receipt.has_value());
    CHECK(receipt.value() == receipt_pdf(record, paper).value());
    write_file(folder / "receipt.pdf", receipt.value());
    (void)output_of({"qpdf", "--check", folder / "receipt.pdf"});
    CHECK(output_of({"pdfinfo", folder / "receipt.pdf"}).find("Pages:           1\n") != std::string::npos);
    (void)output_of({"qpdf", "--check", folder / "record.pdf"});
    (void)output_of({"qpdf", "--check", folder / "handover.pdf"});
    const std::string size = paper == Paper::a4 ? "A4" : "letter";
    const auto info = output_of({"pdfinfo", folder / "record.pdf"});
    CHECK(info.find(size) != std::string::npos);
    CHECK(output_of({"pdfinfo", folder / "handover.pdf"}).find("Pages:           1\n") != std::string::npos);
    if (look != nullptr) {
      write_file(std::filesystem::path{look} / (size + ".pdf"), once.value());
      write_file(std::filesystem::path{look} / (size + "-handover.pdf"), sheet.value());
      write_file(std::filesystem::path{look} / (size + "-receipt.pdf"), receipt.value());
    }
  }
}

TEST_CASE("who the customer is, and which data sheets the shop goes by, stand on the record") {
  Record record = eventful_record();
  const test::ScratchFolder folder;
  // Cell by cell, as they were drawn: the layout's lines run across wrapped cells.
  const auto words = [&](const Record& one) {
    write_file(folder / "it.pdf", pdf(one, Paper::a4).value());
    return squeezed(output_of({"pdftotext", "-raw", folder / "it.pdf", "-"}));
  };
  const auto has = [](const std::string& text, const std::string& wanted) {
    return text.find(squeezed(wanted)) != std::string::npos;
  };
  CHECK(has(words(record), "no data sheet named"));
  record.personal = {{"plate", std::string(32, 's'), "DEMO 9"}, {"customer", std::string(32, 't'), "N. N."}};
  record.pieces.front().film_sheet = "Film sheet 12, 2025-04";
  record.pieces.front().solution_sheet = "Safety sheet 3";
  CHECK(has(words(record), "NEVER, as far as the log tells"));
  REQUIRE(record.sensor_papers.size() == 1);
  record.sensor_papers.front() = {record.sensor_papers.front().sensor, "RH-9", "north wall, 1.5 m",
                                  record.from, "agrees over NaCl"};
  const auto named = words(record);
  CHECK(has(named, "RH-9"));
  CHECK(has(named, "north wall, 1.5 m"));
  CHECK(has(named, "agrees over NaCl"));
  CHECK(has(named, "Number plate DEMO 9"));
  CHECK(has(named, "Customer N. N."));
  CHECK(has(named, "data sheet: Film sheet 12, 2025-04"));
  CHECK(has(named, "data sheet: Safety sheet 3"));

  record.personal.clear();
  record.forgotten = record.to;
  CHECK(has(words(record), "Plate, customer erased on Wed 2026-03-04 16:30"));
}

TEST_CASE("plots are vectors, and fonts are in the file") {
  const test::ScratchFolder folder;
  write_file(folder / "it.pdf", pdf(eventful_record(), Paper::a4).value());
  const auto images = output_of({"pdfimages", "-list", folder / "it.pdf"});
  CHECK(std::ranges::count(images, '\n') == 2);  // its two head lines alone
  const auto fonts = output_of({"pdffonts", folder / "it.pdf"});
  CHECK(fonts.find("DejaVuSans") != std::string::npos);
  CHECK(fonts.find(" no ") == std::string::npos);  // embedded, subset, with a map to Unicode
}

TEST_CASE("pdftotext finds the figures of the machine files") {
  for (const auto& row : cells(file("pieces.csv"))) {
    if (row.size() > 6 && !row[6].empty()) {
      CAPTURE(row[3]);
      CHECK(shows("est. " + row[6] + " %"));
    }
  }
  // Lowest and highest of each minute column.
  struct Column {
    std::size_t at;
    double low = HUGE_VAL, high = -HUGE_VAL;
  };
  std::array columns{Column{2}, Column{3}, Column{5}};
  const auto air = cells(file("air.csv"));
  for (const auto& row : air) {
    for (auto& column : columns) {
      const double value = std::stod(row.at(column.at));
      column.low = std::min(column.low, value);
      column.high = std::max(column.high, value);
    }
  }
  for (const auto& column : columns) {
    CAPTURE(column.at);
    CHECK(shows(one_decimal(column.low)));
    CHECK(shows(one_decimal(column.high)));
  }
  const auto bridged = std::ranges::count_if(air, [](const auto& row) { return row.at(8) == "1"; });
  REQUIRE(bridged > 0);
  CHECK(shows(std::to_string(bridged) + " of these minutes had no readings"));
  // Readings by verdict.
  std::map<std::string, int> verdict;
  for (const auto& row : cells(file("readings.csv"))) {
    ++verdict[row.at(5) + " " + row.at(8)];
  }
  CHECK(shows(std::to_string(verdict["air-temperature ok"])));
  CHECK(shows(std::to_string(verdict["relative-humidity ok"])));
  CHECK(shows(std::to_string(verdict["air-temperature implausible"]) + " implausible"));
}

TEST_CASE("every parameter stands in the pages as in parameters.json") {
  std::istringstream json(file("parameters.json"));
  int seen = 0;
  for (std::string line; std::getline(json, line);) {
    const auto value = line.find("\"value\": ");
    if (value == std::string::npos) {
      continue;
    }
    const auto begin = value + 9;
    const auto name = line.substr(line.find("\"name\": \"") + 9);
    CAPTURE(line);
    CHECK(shows(line.substr(begin, line.find(',', begin) - begin)));
    CHECK(shows(name.substr(0, name.find('"')).substr(0, 20)));
    ++seen;
  }
  CHECK(seen > 30);
}

TEST_CASE("every event stands in the pages") {
  for (const auto& event : eventful_record().events) {
    CHECK(shows(std::to_string(event.event.seq)));
  }
  CHECK(shows("TAKEN BACK"));
  CHECK(shows("EARLY"));
  CHECK(shows("LAID AGAIN as " + std::to_string(eventful().second_lamp)));
  CHECK(shows("told: bumper recess still moist"));
  CHECK(shows("rechecked, sound"));
}

TEST_CASE("what is missing is disclosed, and nothing is made up where nothing is") {
  CHECK(shows("no readings"));
  CHECK(shows("clock step"));
  CHECK(shows("1 of them not-json"));
  CHECK(shows("No checkpoint covers this record"));
  CHECK_FALSE(shows("Gaps: none"));

  const ShopStory quiet(ShopStory::Kind::quiet);
  const auto text = squeezed(text_of_pdf(pdf(quiet.record(), Paper::a4).value()));
  CHECK(text.find(squeezed("Gaps: none")) != std::string::npos);
  CHECK(text.find(squeezed("could not be read: none")) != std::string::npos);
  CHECK(text.find(squeezed("Released not yet")) != std::string::npos);
}

TEST_CASE("all cautions are in the record") {
  for (const auto caution : cautions()) {
    CHECK(shows(std::string{caution}));
  }
}

TEST_CASE("a shop that counts in Fahrenheit reads Fahrenheit, and US words") {
  Origin origin = eventful().origin();
  origin.fahrenheit = true;
  origin.us_words = true;
  const auto reader = store::Reader::open(eventful().database());
  REQUIRE(reader.has_value());
  const auto record = gather(*reader, eventful().setup(), eventful().vehicle, origin);
  REQUIRE(record.has_value());
  const auto text = squeezed(text_of_pdf(pdf(record.value(), Paper::letter).value()));
  CHECK(text.find("hood(piece") != std::string::npos);
  CHECK(text.find("bonnet(piece") == std::string::npos);
  CHECK(text.find(squeezed("Temperature [\xC2\xB0"
                           "F]")) != std::string::npos);
}

}  // namespace dryclock::record
