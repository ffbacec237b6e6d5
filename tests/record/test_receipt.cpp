#include "record/receipt.hpp"

#include <doctest/doctest.h>

#include "record/sealed_part.hpp"
#include "record/shop_story.hpp"
#include "seal/verify.hpp"

namespace dryclock::record {
namespace {

namespace fs = std::filesystem;

std::string receipt_words(const Record& record) {
  return squeezed(text_of_pdf(receipt_pdf(record, Paper::a4).value()));
}

}  // namespace

TEST_CASE("the receipt says what was left, when, until when and for what") {
  Record record = eventful_record();
  auto text = receipt_words(record);
  CHECK(has(text, "Receipt: demo-7"));
  CHECK(has(text, "Taken in by An invented shop"));
  CHECK(has(text, "Came in Mon 2026-03-02 08:00"));
  CHECK(has(text, "Hand-over agreed Wed 2026-03-04 17:00"));
  CHECK(has(text, "This sheet carries no number"));
  CHECK(has(text, "no guarantee and no legal promise"));

  record.hand_over.reset();
  record.events.front().event.note = "Bonnet and front bumper, gloss";
  record.events.front().event.who = "AB";
  text = receipt_words(record);
  CHECK(has(text, "no time is agreed yet"));
  CHECK(has(text, "What is to be laid Bonnet and front bumper, gloss"));
  CHECK(has(text, "Received by AB"));
}

TEST_CASE("what is planned stands in the shop's own words") {
  const ShopStory quiet(ShopStory::Kind::quiet);
  const auto uk = receipt_words(quiet.record());
  CAPTURE(uk);
  CHECK(has(uk, "Planned: headlamp 2/2."));
  CHECK(has(uk, "Laid when this sheet was made: bonnet"));
  const auto us = receipt_words(ShopStory(ShopStory::Kind::quiet, {Language::english_us}).record());
  CHECK(has(us, "Planned: headlight 2/2."));
  CHECK(has(us, "Laid when this sheet was made: hood"));
}

TEST_CASE("a key that cannot be read has no hash to print, and the sheet says so") {
  const test::ScratchFolder folder;
  Record record = eventful_record();
  auto chain = story_chain(folder.path());
  REQUIRE(chain.seal(record.from, "start").has_value());
  fs::remove(folder / "seal/keys/00000001.pem");
  add_newest_checkpoint(record, folder / "seal");
  CHECK_FALSE(record.checkpoint);
  CHECK(record.unsealed.key == "record.unsealed-problem");
  CHECK(has(receipt_words(record), "This sheet carries no number: the seal cannot be read"));
}

TEST_CASE("the number on the receipt shows that a copy's end was cut off") {
  const test::ScratchFolder folder;
  Record record = eventful_record();
  add_newest_checkpoint(record, folder / "seal");
  CHECK_FALSE(record.checkpoint);
  CHECK(record.unsealed.key == "record.unsealed-yet");

  auto chain = story_chain(folder.path(), 2'000);
  REQUIRE(chain.seal(record.from, "start").has_value());
  add_newest_checkpoint(record, folder / "seal");
  REQUIRE(record.checkpoint);
  const auto last = record.checkpoint_number;
  CHECK(last == chain.last()->number);
  REQUIRE(last > 1);
  const auto seal = folder / "seal";
  CHECK(output_of({"sha256sum", seal / *record.checkpoint_name}).starts_with(*record.checkpoint));
  CHECK(output_of({"sha256sum", seal / "keys/00000001.pem"}).starts_with(record.key_sha256));
  const auto text = receipt_words(record);
  CHECK(has(text, *record.checkpoint));
  CHECK(has(text, record.key_sha256));
  CHECK(seal::verify(seal, {*record.checkpoint, record.key_sha256}).value().findings.empty());

  std::vector<fs::path> tail;
  for (const auto& entry : fs::recursive_directory_iterator(seal)) {
    if (entry.is_regular_file() &&
        entry.path().filename().string().find(seal::padded(last)) != std::string::npos) {
      tail.push_back(entry.path());
    }
  }
  for (const auto& file : tail) {
    fs::remove(file);
  }
  CHECK(seal::verify(seal, {}).value().findings.empty());  // nothing in the folder itself can tell
  const auto findings = seal::verify(seal, {*record.checkpoint, {}}).value().findings;
  REQUIRE(findings.size() == 1);
  CHECK(to_string(findings.front()).find("the end has been cut off") != std::string::npos);
}

}  // namespace dryclock::record
