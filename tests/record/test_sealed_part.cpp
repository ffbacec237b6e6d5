#include "record/sealed_part.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>

#include "record/export.hpp"
#include "record/shop_story.hpp"
#include "seal/verify.hpp"

namespace dryclock::record {

TEST_CASE("a sealed record unpacks to a chain that verifies against the hash on the sheet") {
  const test::ScratchFolder folder;
  Record record = eventful_record();
  add_seal(record, folder / "seal");
  CHECK_FALSE(record.checkpoint);  // there is no seal yet: the record says so, and is made all the same
  CHECK(record.unsealed.key == "record.unsealed-problem");

  auto chain = story_chain(folder.path());
  REQUIRE(chain.seal(record.as_of, "hourly").has_value());
  add_seal(record, folder / "seal");
  REQUIRE_MESSAGE(record.checkpoint, record.words->fact(record.unsealed));
  CHECK(record.unsealed.key.empty());

  const auto archive = zip(record, Paper::a4).value();
  write_file(folder / "it.zip", archive);
  (void)output_of({"unzip", "-q", folder / "it.zip", "-d", folder / "out"});
  const auto sealed = folder / "out" / file_stem(record) / "sealed";
  const auto report =
      seal::verify(sealed, {.anchor = *record.checkpoint, .key_sha256 = record.key_sha256}).value();
  CHECK(report.findings.empty());
  CHECK(report.rows >= static_cast<std::int64_t>(record.events.size()));
  // The hash is that of the list itself, as coreutils computes it.
  const auto hash = output_of({"sha256sum", sealed / *record.checkpoint_name});
  CHECK(hash.starts_with(*record.checkpoint));
  // And it is printed for people.
  const auto pages = folder / "out" / file_stem(record) / "record.pdf";
  CHECK(squeezed(output_of({"pdftotext", "-layout", pages, "-"})).find(*record.checkpoint) !=
        std::string::npos);

  // A later checkpoint changes nothing of a record that an earlier one covers.
  REQUIRE(chain.seal(record.as_of + std::chrono::hours{1}, "hourly").has_value());
  Record again = eventful_record();
  add_seal(again, folder / "seal");
  CHECK(zip(again, Paper::a4).value() == archive);
}

TEST_CASE("without a place for temporary files the record is made all the same, and nothing lies about") {
  const test::ScratchFolder folder;
  REQUIRE(story_chain(folder.path()).seal(eventful_record().as_of, "hourly").has_value());
  Record record = eventful_record();
  const char* set = std::getenv("TMPDIR");
  const std::string before = set == nullptr ? "" : set;
  ::setenv("TMPDIR", "/proc", 1);  // a folder in which nobody can make one
  add_seal(record, folder / "seal");
  set == nullptr ? ::unsetenv("TMPDIR") : ::setenv("TMPDIR", before.c_str(), 1);
  CHECK_FALSE(record.checkpoint);
  CHECK(record.unsealed.key == "record.unsealed-problem");
  CHECK(record.sealed.empty());
  CHECK_FALSE(std::filesystem::exists("checkpoints"));
}

}  // namespace dryclock::record
