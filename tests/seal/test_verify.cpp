// What verify() has to name: every kind of tampering, at random places. The long form runs with
// DRYCLOCK_LONG=1. Each case prints its seed; DRYCLOCK_SEED=N plays it again.
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <random>

#include "base/sha256.hpp"
#include "seal/signing_key.hpp"
#include "sealed_shop.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

std::uint32_t some_seed() {
  const char* given = std::getenv("DRYCLOCK_SEED");
  return given == nullptr ? std::random_device{}() : static_cast<std::uint32_t>(std::stoul(given));
}

int tries() {
  return std::getenv("DRYCLOCK_LONG") != nullptr ? 2000 : 60;
}

// A record of the first vehicle out of six hours over a midnight, to be damaged and mended.
class Tampering {
 public:
  Tampering() {
    MESSAGE("seed " << seed_);
    shop_.live(6);
    done_ =
        extract(shop_.folder(), copy_, first_vehicles_part(shop_, last_sealed(shop_.folder()).value()->seq))
            .value();
    files_ = files_of(copy_);
    std::erase_if(files_, [](const auto& name) { return name == recipe_file; });
    REQUIRE(std::ranges::count_if(files_, [](const auto& name) { return name.starts_with("keys/"); }) == 2);
    REQUIRE(findings(report()) == "");
  }

  [[nodiscard]] const fs::path& folder() const { return copy_; }
  [[nodiscard]] const Extracted& done() const { return done_; }
  [[nodiscard]] const SealedShop& shop() const { return shop_; }
  [[nodiscard]] Report report(const Trust& trust = {}) const { return verify(copy_, trust).value(); }

  [[nodiscard]] std::vector<std::string> files(std::string_view start, std::string_view end = "") const {
    std::vector<std::string> some;
    std::ranges::copy_if(files_, std::back_inserter(some),
                         [&](const auto& name) { return name.starts_with(start) && name.ends_with(end); });
    REQUIRE(!some.empty());
    return some;
  }
  template <class T>
  const T& any_of(const std::vector<T>& some) {
    return some[random_() % some.size()];
  }
  std::size_t below(std::size_t end) { return random_() % end; }

  // The findings with `name` so, which is mended again.
  std::string findings_with(const std::string& name, const std::string& bytes) {
    const auto good = content(copy_ / name);
    overwrite(copy_ / name, bytes);
    auto text = findings(report());
    overwrite(copy_ / name, good);
    return text;
  }
  std::string findings_without(const std::string& name, const Trust& trust = {}) {
    const auto good = content(copy_ / name);
    fs::remove(copy_ / name);
    auto text = findings(report(trust));
    overwrite(copy_ / name, good);
    return text;
  }

 private:
  SealedShop shop_;
  fs::path copy_ = shop_.scratch() / "copy";
  Extracted done_;
  std::vector<std::string> files_;
  std::uint32_t seed_ = some_seed();
  std::mt19937 random_{seed_};
};

bool says(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

// A signature that does not hold is told of under the list that it signs.
std::string subject_of(const std::string& name) {
  return name.ends_with(".sig") ? name.substr(0, name.size() - 4) : name;
}

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> all;
  for (std::size_t from = 0; from < text.size();) {
    const auto end = text.find('\n', from);
    all.push_back(text.substr(from, end - from + 1));
    from = end + 1;
  }
  return all;
}

std::string joined(const std::vector<std::string>& all) {
  std::string text;
  for (const auto& line : all) {
    text += line;
  }
  return text;
}

TEST_CASE_FIXTURE(Tampering, "a flipped bit is named, wherever it is") {
  for (const char* part : {"segments/", "checkpoints/", "keys/", withheld_file}) {
    for (int i = 0; i < tries(); ++i) {
      const auto name = any_of(files(part));
      auto bytes = content(folder() / name);
      const auto at = below(bytes.size());
      bytes[at] = static_cast<char>(bytes[at] ^ (1 << below(8)));
      const auto text = findings_with(name, bytes);
      CAPTURE(name);
      CAPTURE(at);
      CAPTURE(text);
      REQUIRE(text != "");
      CHECK((says(text, subject_of(name)) || name == withheld_file));
    }
  }
}

TEST_CASE_FIXTURE(Tampering, "a file cut short is named, wherever it ends") {
  for (const char* part : {"segments/", "checkpoints/", "keys/"}) {
    for (int i = 0; i < tries(); ++i) {
      const auto name = any_of(files(part));
      const auto bytes = content(folder() / name);
      const auto kept = below(bytes.size());
      const auto text = findings_with(name, bytes.substr(0, kept));
      CAPTURE(name);
      CAPTURE(kept);
      CAPTURE(text);
      CHECK(says(text, subject_of(name)));
    }
  }
}

TEST_CASE_FIXTURE(Tampering, "a dropped row is named") {
  for (int i = 0; i < tries(); ++i) {
    const auto name = any_of(files("segments/"));
    auto rows = lines(content(folder() / name));
    rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(below(rows.size())));
    CHECK(says(findings_with(name, joined(rows)), name + ": has been altered"));
  }
}

TEST_CASE_FIXTURE(Tampering, "swapped rows are named") {
  for (int i = 0; i < tries(); ++i) {
    const auto name = any_of(files("segments/"));
    auto rows = lines(content(folder() / name));
    const auto a = below(rows.size());
    const auto b = below(rows.size());
    if (a != b) {
      std::swap(rows[a], rows[b]);
      CHECK(says(findings_with(name, joined(rows)), name + ": has been altered"));
    }
  }
}

TEST_CASE_FIXTURE(Tampering, "swapped segments and swapped checkpoints are named") {
  for (const char* end : {".ndjson", ".sha256", ".about", ".sig"}) {
    const auto some = files("", end);
    for (int i = 0; i < tries() / 4; ++i) {
      const auto& a = any_of(some);
      const auto& b = any_of(some);
      if (a != b) {
        const auto of_a = content(folder() / a);
        const auto of_b = content(folder() / b);
        overwrite(folder() / a, of_b);
        const auto text = findings_with(b, of_a);
        overwrite(folder() / a, of_a);
        CAPTURE(a);
        CHECK(says(text, subject_of(a)));
      }
    }
  }
}

TEST_CASE_FIXTURE(Tampering, "a missing file is named") {
  for (const auto& name : files("segments/")) {
    CHECK(says(findings_without(name), name + ": this segment is missing, and not declared as withheld"));
  }
  for (const auto& name : files("keys/")) {
    CHECK(says(findings_without(name), name + ": this key is missing"));
  }
  for (const auto& name : files("checkpoints/", ".about")) {
    CHECK(says(findings_without(name), name + ": this file is missing"));
  }
  for (const auto& name : files("checkpoints/", ".sig")) {
    CHECK(says(findings_without(name), name + ": this signature is missing"));
  }
  const auto lists = files("checkpoints/", ".sha256");
  for (const auto& name : lists) {
    if (name != lists.back()) {
      CHECK(says(findings_without(name), name + ": this checkpoint is missing"));
    }
  }
  CHECK(says(findings_without(withheld_file), "not declared as withheld"));
}

TEST_CASE_FIXTURE(Tampering, "a segment inside the span cannot be declared withheld") {
  const auto given = files("segments/");
  const auto id = stream_of_segment(given.front());
  std::vector<std::string> of_stream;
  std::ranges::copy_if(given, std::back_inserter(of_stream),
                       [&](const auto& name) { return stream_of_segment(name) == id; });
  if (of_stream.size() < 3) {
    of_stream.clear();
    const auto other = stream_of_segment(given.back());
    std::ranges::copy_if(given, std::back_inserter(of_stream),
                         [&](const auto& name) { return stream_of_segment(name) == other; });
  }
  REQUIRE(of_stream.size() >= 3);
  const auto& hidden = of_stream[1];
  fs::remove(folder() / hidden);
  CHECK(says(findings_with(withheld_file, content(folder() / withheld_file) + hidden + "\n"),
             hidden + ": is withheld, though"));
}

TEST_CASE_FIXTURE(Tampering, "a file that was added is named") {
  overwrite(folder() / "segments/2026-03-01/0123456789abcdef.00000001.ndjson", "{\"seq\":1}\n");
  overwrite(folder() / "keys/00000004.pem", SigningKey::generate().public_pem());
  const auto text = findings(report());
  CHECK(says(text, "segments/2026-03-01/0123456789abcdef.00000001.ndjson: no checkpoint names this file"));
  CHECK(says(text, "keys/00000004.pem: no checkpoint names this file"));
}

// Everything of the checkpoints after `kept`, as if the copy had been made then.
void cut_after(const fs::path& folder, std::int64_t kept, std::int64_t last) {
  std::string withheld;
  for (const auto& name : lines(content(folder / withheld_file))) {
    bool stays = true;
    for (auto number = kept + 1; number <= last; ++number) {
      stays = stays && !says(name, padded(number));
    }
    withheld += stays ? name : "";
  }
  overwrite(folder / withheld_file, withheld);
  for (const auto& name : files_of(folder)) {
    for (auto number = kept + 1; number <= last; ++number) {
      // A key is named by the checkpoint before the first that it signs.
      const bool later_key = name == key_name(number) && number > kept + 1;
      if (says(name, padded(number)) && (!name.starts_with("keys/") || later_key)) {
        fs::remove(folder / name);
        break;
      }
    }
  }
}

TEST_CASE_FIXTURE(Tampering,
                  "a tail cut off anywhere is seen by an anchor from after the cut, and by nothing else") {
  const auto last = done().last.number;
  std::map<std::int64_t, std::string> hash_of;
  for (std::int64_t number = 1; number <= last; ++number) {
    hash_of[number] = sha256_hex(content(folder() / list_name(number)));
  }
  const auto whole = folder().parent_path() / "whole";
  fs::copy(folder(), whole, fs::copy_options::recursive);
  for (int i = 0; i < tries() / 4; ++i) {
    const auto kept = static_cast<std::int64_t>(1 + below(static_cast<std::size_t>(last - 1)));
    const auto after = kept + 1 + static_cast<std::int64_t>(below(static_cast<std::size_t>(last - kept)));
    const auto before = 1 + static_cast<std::int64_t>(below(static_cast<std::size_t>(kept)));
    cut_after(folder(), kept, last);
    CAPTURE(kept);
    CAPTURE(after);
    CAPTURE(before);
    CHECK(findings(report()) == "");  // stated in the recipe: what came later is not shown to be missing
    CHECK(report().last->number == kept);
    CHECK(findings(report({.anchor = hash_of[before], .key_sha256 = {}})) == "");
    CHECK(findings(report({.anchor = hash_of[after], .key_sha256 = {}})) ==
          "checkpoints: the anchored checkpoint is not here: the end has been cut off, or the seal was made "
          "anew\n");
    fs::remove_all(folder());
    fs::copy(whole, folder(), fs::copy_options::recursive);
  }
}

// Everything from checkpoint `from` on, anew: rows changed, all hashes right, signed with `key`.
void forge(const fs::path& folder, std::int64_t from, std::int64_t last, const SigningKey& key) {
  std::string before;
  for (auto number = from; number <= last; ++number) {
    auto list = parse_list(content(folder / list_name(number))).value();
    if (!before.empty()) {
      list.front().sha256 = before;
    }
    for (auto& [sha256, name] : list) {
      if (name.starts_with("keys/")) {
        overwrite(folder / name, key.public_pem());
      } else if (name.ends_with(".ndjson") && fs::exists(folder / name)) {
        auto text = content(folder / name);
        if (const auto at = text.find("19.5"); at != std::string::npos) {
          text.replace(at, 4, "24.5");
          overwrite(folder / name, text);
        }
      }
      if (fs::exists(folder / name) && !name.ends_with(".sha256")) {
        sha256 = sha256_hex(content(folder / name));
      }
    }
    overwrite(folder / list_name(number), to_text(list));
    overwrite(folder / signature_name(number), key.sign(to_text(list)));
    before = sha256_hex(to_text(list));
  }
}

TEST_CASE_FIXTURE(Tampering, "a copy signed anew is whole in itself, and named by the key or by an anchor") {
  forge(folder(), 1, done().last.number, SigningKey::generate());
  CHECK(findings(report()) ==
        "");  // nothing in the folder itself can tell: that is why the hashes are printed
  CHECK(says(findings(report({.anchor = {}, .key_sha256 = done().key_sha256})),
             "is not the key that was named"));
  CHECK(says(findings(report({.anchor = done().last.sha256, .key_sha256 = {}})),
             "the anchored checkpoint is not here"));
}

// The chain before it still names the key that was in charge: a stranger's signature does not hold.
TEST_CASE_FIXTURE(Tampering, "a copy signed anew from some checkpoint on, with another key, is named there") {
  const auto whole = folder().parent_path() / "whole";
  fs::copy(folder(), whole, fs::copy_options::recursive);
  const auto last = done().last.number;
  for (int i = 0; i < tries() / 4; ++i) {
    const auto from = 2 + static_cast<std::int64_t>(below(static_cast<std::size_t>(last - 1)));
    forge(folder(), from, last, SigningKey::generate());
    const auto text = findings(report());
    CAPTURE(from);
    CAPTURE(text);
    CHECK(says(text, list_name(from) + ": its signature does not hold"));
    fs::remove_all(folder());
    fs::copy(whole, folder(), fs::copy_options::recursive);
  }
}

TEST_CASE_FIXTURE(Tampering, "who has today's key cannot rewrite the day before") {
  const auto today = SigningKey::from_pem(content(fs::directory_iterator(shop().keys())->path()));
  forge(folder(), 2, done().last.number, today);
  CHECK(findings(report()).starts_with(list_name(2) + ": its signature does not hold"));
}

// The shop's own hand: the right key, but rows that its checkpoints do not account for.
TEST_CASE_FIXTURE(Tampering, "a row left out with the right key is named by the counts") {
  const auto key = SigningKey::from_pem(content(fs::directory_iterator(shop().keys())->path()));
  const auto number = done().last.number;
  auto list = parse_list(content(folder() / list_name(number))).value();
  for (auto& [sha256, name] : list) {
    if (name.ends_with(".ndjson") && fs::exists(folder() / name)) {
      auto rows = lines(content(folder() / name));
      if (rows.size() > 2) {
        rows.erase(rows.begin() + 1);
        overwrite(folder() / name, joined(rows));
        sha256 = sha256_hex(joined(rows));
      }
    }
  }
  overwrite(folder() / list_name(number), to_text(list));
  overwrite(folder() / signature_name(number), key.sign(to_text(list)));
  CHECK(says(findings(report()), "holds other rows than the checkpoint tells of"));
}

TEST_CASE("a folder without checkpoints is no seal") {
  const test::ScratchFolder empty;
  CHECK(verify(empty.path(), {}).error().what == "there is no checkpoint here");
}

}  // namespace
}  // namespace dryclock::seal
