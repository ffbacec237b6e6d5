// The pages for people in German, read back by pdftotext (Poppler).
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <fstream>
#include <regex>
#include <sstream>

#include "record/handover.hpp"
#include "record/machine_files.hpp"
#include "record/pdf.hpp"
#include "record/receipt.hpp"
#include "record/shop_story.hpp"
#include "wording/catalogue.hpp"

namespace dryclock::record {
namespace {

// What a page says, cell by cell, its lines joined by single spaces.
std::string words_of(const std::string& pdf) {
  const test::ScratchFolder folder;
  write_file(folder / "it.pdf", pdf);
  auto text = output_of({"pdftotext", "-raw", folder / "it.pdf", "-"});
  std::ranges::replace(text, '\n', ' ');
  return ' ' + text + ' ';
}

// All sheets of a job, sealed and not, of a vehicle that has left and of one that is still here.
std::vector<std::string> sheets(Language language) {
  const ShopStory quiet(ShopStory::Kind::quiet), kept(ShopStory::Kind::kept);
  const auto eventful_one = eventful().record(language);
  std::vector<std::string> all;
  for (auto record : {eventful_one, sealed(eventful_one), quiet.record(language), kept.record(language)}) {
    record.pieces.front().film_sheet = "12";
    record.pieces.front().summary.removed = record.to;
    all.push_back(words_of(pdf(record, Paper::a4).value()));
    all.push_back(words_of(handover_pdf(record, Paper::a4).value()));
    all.push_back(words_of(receipt_pdf(record, Paper::a4).value()));
  }
  return all;
}

// The stretches of a message between its values: what stands on a page as it is.
std::vector<std::string> stretches(const std::string& pattern) {
  static const std::regex values("[{}]|\\b[a-z_]+, (select|plural),");
  std::vector<std::string> out;
  for (auto one = std::sregex_token_iterator(pattern.begin(), pattern.end(), values, -1);
       one != std::sregex_token_iterator(); ++one) {
    auto text = one->str();
    const auto at_an_end = [](char c) {
      return std::ispunct(static_cast<unsigned char>(c)) != 0 || c == ' ';
    };
    text.erase(text.begin(), std::ranges::find_if_not(text, at_an_end));
    while (!text.empty() && at_an_end(text.back())) {
      text.pop_back();
    }
    out.push_back(std::move(text));
  }
  return out;
}

bool stands(const std::string& text, const std::string& wanted) {
  const auto inner = [&](std::size_t at) {
    const auto c = static_cast<unsigned char>(text[at]);
    return std::isalnum(c) != 0 || c >= 0x80;
  };
  for (auto at = text.find(wanted); at != std::string::npos; at = text.find(wanted, at + 1)) {
    if (!inner(at - 1) && !inner(at + wanted.size())) {
      return true;
    }
  }
  return false;
}

bool stands_in_any(const std::vector<std::string>& texts, const std::string& wanted) {
  return std::ranges::any_of(texts, [&](const std::string& text) { return stands(text, wanted); });
}

std::ptrdiff_t letters_of(const std::string& text) {
  return std::ranges::count_if(text, [](unsigned char c) { return std::isalpha(c) != 0; });
}

std::string source_of(const char* file) {
  std::ostringstream text;
  text << std::ifstream(std::filesystem::path{DRYCLOCK_SOURCE_DIR} / "daemon/record" / file).rdbuf();
  return text.str();
}

// Of the messages that are told here.
bool is_told_here(const std::string& key) {
  return key.starts_with("record") || key.starts_with("cautions.") || key.starts_with("words.");
}

}  // namespace

TEST_CASE("sheets in German hold the German message wherever the English ones hold the English one") {
  const auto english = sheets(Language::english_uk), german = sheets(Language::german);
  const auto in_german = wording::patterns(Language::german);
  constexpr std::ptrdiff_t telling = 9;  // shorter ones stand in names and notes too
  int seen = 0;
  for (const auto& [name, pattern] : wording::patterns(Language::english_uk)) {
    const auto& key = name;  // which can be captured
    const auto& other = in_german.at(key);
    if (!is_told_here(key) || pattern == other) {
      continue;
    }
    const auto others = stretches(other);
    for (const auto& one : stretches(pattern)) {
      if (letters_of(one) < telling || other.find(one) != std::string::npos || !stands_in_any(english, one)) {
        continue;
      }
      CAPTURE(key);
      CAPTURE(one);
      CHECK_FALSE(stands_in_any(german, one));
      CHECK(std::ranges::any_of(others, [&](const std::string& text) {
        return letters_of(text) > 2 && stands_in_any(german, text);
      }));
      ++seen;
    }
  }
  CHECK(seen > 160);
}

TEST_CASE("each message of records is used, and each that a source names is there") {
  const auto all = wording::patterns(Language::english_uk);
  std::string source;
  for (const auto& [file, subject] :
       {std::pair{"summary_page.cpp", "record"}, std::pair{"list_pages.cpp", "record-lists"},
        std::pair{"plot_pages.cpp", "record-plots"}, std::pair{"handover.cpp", "record-handover"},
        std::pair{"receipt.cpp", "record-receipt"}, std::pair{"wording.cpp", "record-events"},
        std::pair{"parameters.cpp", "record-figures"}, std::pair{"pdf.cpp", "record"},
        std::pair{"sheet.cpp", "record"}, std::pair{"sealed_part.cpp", "record"},
        std::pair{"gather.cpp", "record"}, std::pair{"step_estimates.cpp", "record"},
        std::pair{"record.hpp", "record"}}) {
    const auto text = source_of(file);
    static const std::regex key("\\b(?:tell\\(|of_piece\\()\"([a-z-]+)\""),
        full("\"(record[a-z-]*\\.[a-z-]+[a-z0-9])\"");
    for (auto one = std::sregex_iterator(text.begin(), text.end(), key); one != std::sregex_iterator();
         ++one) {
      const auto named = subject + std::string{"."} + (*one)[1].str();
      CAPTURE(named);
      CHECK((named.ends_with('-') || all.contains(named)));
    }
    for (auto one = std::sregex_iterator(text.begin(), text.end(), full); one != std::sregex_iterator();
         ++one) {
      CAPTURE((*one)[1].str());
      CHECK(all.contains((*one)[1].str()));
    }
    source += text;
  }
  for (const auto& message : all) {
    const auto& named = message.first;
    // Put together: of zones, of how a piece was laid, and of what a lamp lights.
    const auto name = named.substr(named.find('.') + 1);
    const bool parts = named.starts_with("record-handover.zone-") ||
                       named.starts_with("record-events.laid") || named.starts_with("record-events.heat") ||
                       named.starts_with("record-events.lamp-on-piece") ||
                       named.starts_with("record.milestone-");
    CAPTURE(named);
    CHECK((!named.starts_with("record") || parts || source.find('"' + name + '"') != std::string::npos ||
           source.find('"' + named + '"') != std::string::npos));
  }
}

TEST_CASE("umlauts, signs and numbers come out as they are written in German") {
  const auto text = words_of(pdf(eventful_record_in_german(), Paper::a4).value());
  CAPTURE(text);
  for (const auto* words :
       {"Trocknungsprotokoll: demo-7", "Übergabe vereinbart Mi 2026-03-04 17:00", "Folie und Lösung",
        "Stoßfänger vorn: Heißluftpistole (2000 W), 55 °C auf der Folie, 3 min lang",
        "Größe Wert Einheit Quelle", "gemessen: 4,321 × 10⁹ m² s Pa/kg, ± 14,3 %",
        "Relative Luftfeuchte [% r. F.]", "Dicke 150 µm"}) {
    CAPTURE(words);
    CHECK(stands(text, words));
  }
}

TEST_CASE("heads of narrow columns stand on one line") {
  CHECK(stands(words_of(pdf(eventful_record(), Paper::a4).value()), "Squeegee"));
  CHECK(stands(words_of(pdf(eventful_record_in_german(), Paper::a4).value()), "Gerakelt"));
}

TEST_CASE("files for machines are the same in every language") {
  const auto english = machine_files(eventful_record()), german = machine_files(eventful_record_in_german());
  REQUIRE(english.size() == german.size());
  for (std::size_t i = 0; i < english.size(); ++i) {
    CAPTURE(english[i].name);
    CHECK(english[i].name == german[i].name);
    CHECK((english[i].bytes == german[i].bytes));
  }
}

TEST_CASE("a shop that speaks German gets German where no language is named, and another where one is") {
  const ShopStory story(ShopStory::Kind::quiet, {Language::german});
  const auto own = receipt_pdf(story.record(), Paper::a4).value();
  CHECK(stands(words_of(own), "Annahmeschein: quiet-1"));
  CHECK(own == receipt_pdf(story.record(Language::german), Paper::a4).value());
  const auto english = words_of(receipt_pdf(story.record(Language::english_us), Paper::a4).value());
  CHECK(stands(english, "Receipt: quiet-1"));
  CHECK(stands(english, "headlight 2/2"));
  CHECK(stands(words_of(own), "(Folie, 150 Mikrometer)"));
  CHECK(stands(english, "(150 micrometre film)"));
}

}  // namespace dryclock::record
