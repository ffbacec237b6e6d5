#include "record/pdf.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <regex>

#include "domain/names.hpp"
#include "record/handover.hpp"
#include "record/receipt.hpp"
#include "record/shop_story.hpp"
#include "wording/catalogue.hpp"

namespace dryclock::record {
namespace {

const std::string& shown() {
  static const std::string text = squeezed(text_of_pdf(pdf(eventful_record(), Paper::a4).value()));
  return text;
}

bool shows(const std::string& words) {
  return shown().find(squeezed(words)) != std::string::npos;
}

}  // namespace

// DRYCLOCK_PAGES=folder leaves the pages there, to be looked at.
TEST_CASE("pages are well-formed and the same every time") {
  const char* look = std::getenv("DRYCLOCK_PAGES");
  for (const Record& record : {eventful_record(), sealed(eventful_record_in_german())}) {
    for (const Paper paper : {Paper::a4, Paper::letter}) {
      const std::string size = paper == Paper::a4 ? "A4" : "letter";
      for (const auto& [name, make] : {std::pair{"record", &pdf}, std::pair{"handover", &handover_pdf},
                                       std::pair{"receipt", &receipt_pdf}}) {
        const auto once = make(record, paper);
        REQUIRE(once.has_value());
        CHECK(once.value() == make(record, paper).value());
        const test::ScratchFolder folder;
        write_file(folder / "it.pdf", once.value());
        (void)output_of({"qpdf", "--check", folder / "it.pdf"});
        const auto info = output_of({"pdfinfo", folder / "it.pdf"});
        CHECK(info.find(size) != std::string::npos);
        CHECK((name == std::string{"record"} || info.find("Pages:           1\n") != std::string::npos));
        if (look != nullptr) {
          const auto language = name_of(record.words->manner().language);
          write_file(std::filesystem::path{look} / fmt::format("{}-{}-{}.pdf", name, language, size),
                     once.value());
        }
      }
    }
  }
}

TEST_CASE("the sheets for the customer are one page each, also of a whole vehicle and in German") {
  Record record = eventful_record_in_german();
  const auto some = record.pieces;
  while (record.pieces.size() < 18) {  // "full front" has eight
    record.pieces.insert(record.pieces.end(), some.begin(), some.end());
    record.to_lay.insert(record.to_lay.end(), {"front bumper", "front wing 1/2", "front wing 2/2"});
  }
  const test::ScratchFolder folder;
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    for (const auto& sheet : {handover_pdf(record, paper).value(), receipt_pdf(record, paper).value()}) {
      write_file(folder / "it.pdf", sheet);
      CHECK(output_of({"pdfinfo", folder / "it.pdf"}).find("Pages:           1\n") != std::string::npos);
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
  REQUIRE(record.sensor_papers.size() == 1);
  CHECK(has(words(record),
            "agrees: showed 76.1 %RH over NaCl at 21.5 \xC2\xB0"
            "C, where 75.4 %RH is expected (within 1.9 %RH, k = 2); its maker states 2 %RH"));
  const auto checked = record.sensor_papers.front();
  record.sensor_papers.front() = {checked.sensor, "", "", {}, {}};
  CHECK(has(words(record), "NEVER, as far as the log tells"));
  record.sensor_papers.front() = {checked.sensor, "RH-9", "north wall, 1.5 m", record.from, checked.result};
  const auto named = words(record);
  CHECK(has(named, "RH-9"));
  CHECK(has(named, "north wall, 1.5 m"));
  CHECK(has(named, "Number plate DEMO 9"));
  CHECK(has(named, "Customer N. N."));
  CHECK(has(named, "data sheet: Film sheet 12, 2025-04"));
  CHECK(has(named, "data sheet: Safety sheet 3"));

  record.personal.clear();
  record.forgotten = record.to;
  CHECK(has(words(record), "Plate, customer erased on Wed 2026-03-04 16:35"));
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

TEST_CASE("of notes as long as may be sent no word is lost, and their lines stay lines") {
  Record record = eventful_record();
  constexpr int words = 330;
  std::string note;
  for (int i = 0; i < words; ++i) {
    note += fmt::format("w{:04} ", i);
  }
  record.events.front().event.note = note;
  record.pieces.front().summary.notes = {note, note, note};
  record.advised = "Keepdry\r\nComeback";
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    const test::ScratchFolder folder;
    write_file(folder / "it.pdf", pdf(record, paper).value());
    const auto text = output_of({"pdftotext", "-raw", folder / "it.pdf", "-"});
    for (int i = 0; i < words; ++i) {
      const auto word = fmt::format("w{:04}", i);
      CAPTURE(word);
      int seen = 0;
      for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
        ++seen;
      }
      CHECK(seen == 4);
    }
    const auto boxes = output_of({"pdftotext", "-bbox", folder / "it.pdf", "-"});
    const auto top_of = [&](const std::string& word) {
      std::smatch found;
      REQUIRE(std::regex_search(boxes, found, std::regex("yMin=\"([0-9.]+)\"[^>]*>" + word + "<")));
      return std::stod(found[1].str());
    };
    CHECK(top_of("Comeback") > top_of("Keepdry") + 5.0);
  }
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
  CHECK(shows("rechecked, lifting at its recess"));
}

TEST_CASE("what is missing is disclosed, and nothing is made up where nothing is") {
  CHECK(shows("no readings"));
  CHECK(shows("clock step"));
  CHECK(shows("forward by 240.0 s"));
  CHECK(shows("1 no JSON; the first at"));
  CHECK(shows("No checkpoint covers this record"));
  CHECK_FALSE(shows("Gaps: none"));

  const ShopStory quiet(ShopStory::Kind::quiet);
  const auto text = squeezed(text_of_pdf(pdf(quiet.record(), Paper::a4).value()));
  CHECK(text.find(squeezed("Gaps: none")) != std::string::npos);
  CHECK(text.find(squeezed("could not be read: none")) != std::string::npos);
  CHECK(text.find(squeezed("Released not yet")) != std::string::npos);
}

TEST_CASE("all cautions are in the record") {
  int seen = 0;
  for (const auto& [key, caution] : wording::patterns(Language::english_uk)) {
    if (key.starts_with("cautions.")) {
      CHECK(shows(caution));
      ++seen;
    }
  }
  CHECK(seen == 4);
}

TEST_CASE("a shop that counts in Fahrenheit reads Fahrenheit, and US words") {
  const ShopStory story(ShopStory::Kind::eventful, {Language::english_us, TemperatureScale::fahrenheit});
  const auto text = squeezed(text_of_pdf(pdf(story.record(), Paper::letter).value()));
  CHECK(text.find("hood(piece") != std::string::npos);
  CHECK(text.find("bonnet(piece") == std::string::npos);
  CHECK(text.find(squeezed("Temperature [\xC2\xB0"
                           "F]")) != std::string::npos);
}

}  // namespace dryclock::record
