// An outsider with sha256sum, openssl and a shell, who knows nothing of our code: the commands are those that
// VERIFY.txt prints, and some typed here from the tools' own manuals.
#include <doctest/doctest.h>
#include <sys/wait.h>

#include <cstdio>
#include <sstream>

#include "seal/recipe.hpp"
#include "seal/signing_key.hpp"
#include "seal/time_stamp.hpp"
#include "sealed_shop.hpp"
#include "support/stamp_authority.hpp"

namespace dryclock::seal {
namespace {

namespace fs = std::filesystem;

struct Ran {
  int code = -1;
  std::string out;
};

Ran shell(const fs::path& folder, const std::string& commands) {
  overwrite(folder / "../commands.sh", commands);
  const auto line = "cd '" + folder.string() + "' && sh ../commands.sh 2>&1";
  Ran ran;
  FILE* pipe = ::popen(line.c_str(), "r");
  REQUIRE(pipe != nullptr);
  for (int c = std::fgetc(pipe); c != EOF; c = std::fgetc(pipe)) {
    ran.out += static_cast<char>(c);
  }
  ran.code = WEXITSTATUS(::pclose(pipe));
  return ran;
}

// The indented blocks of VERIFY.txt, one for each numbered step.
std::vector<std::string> steps(const fs::path& folder) {
  std::vector<std::string> blocks;
  bool inside = false;
  std::istringstream text(content(folder / recipe_file));
  for (std::string line; std::getline(text, line);) {
    const bool command = line.starts_with("    ");
    if (command && !inside) {
      blocks.emplace_back();
    }
    if (command) {
      blocks.back() += line.substr(4) + "\n";
    }
    inside = command;
  }
  return blocks;
}

class Outsider {
 public:
  Outsider() {
    shop_.live(6);
    done_ =
        extract(shop_.folder(), copy_, first_vehicles_part(shop_, last_sealed(shop_.folder()).value()->seq))
            .value();
    steps_ = steps(copy_);
    REQUIRE(steps_.size() == 6);
  }
  [[nodiscard]] Ran step(std::size_t number) const { return shell(copy_, steps_.at(number - 1)); }
  [[nodiscard]] bool all_well() const {
    return step(1).out.empty() && step(2).out == std::to_string(done_.last.number) + "\n" &&
           step(3).out.empty() && step(4).out.empty();
  }

 protected:
  SealedShop shop_;
  fs::path copy_ = shop_.scratch() / "copy";
  Extracted done_;
  std::vector<std::string> steps_;
};

TEST_CASE_FIXTURE(Outsider, "the recipe passes as it says it does") {
  CHECK(step(1).code == 0);
  CHECK(step(1).out == "");
  CHECK(step(2).out == "6\n");
  CHECK(step(3).out == "");
  CHECK(step(4).out == "");
  CHECK(step(5).out.find(done_.last.sha256 + "  " + done_.last.name) != std::string::npos);
  CHECK(step(5).out.find(done_.key_sha256 + "  keys/00000001.pem") != std::string::npos);
}

TEST_CASE_FIXTURE(Outsider, "a stamp is checked with openssl as the recipe says") {
  CHECK(step(6).out == "");  // there is none
  const test::StampAuthority authority;
  const auto list = content(copy_ / list_name(4));
  overwrite(copy_ / stamp_name(4), authority.answer(time_stamp_query(list)));
  fs::copy_file(authority.certificate(), copy_ / "authority.pem");
  CHECK(step(6).out == "Verification: OK\n");
  overwrite(copy_ / list_name(4), list + "x");
  CHECK(step(6).out == "Verification: FAILED\n");
}

TEST_CASE_FIXTURE(Outsider, "the files are what the tools' manuals say they read") {
  // In the shop's own folder nothing is withheld.
  const auto whole = shell(shop_.folder(), "cat checkpoints/*.sha256 | sha256sum --check --strict --quiet");
  CHECK(whole.out == "");
  CHECK(whole.code == 0);
  const auto signature = shell(copy_,
                               "openssl pkeyutl -verify -rawin -pubin -inkey keys/00000001.pem -sigfile "
                               "checkpoints/00000001.sha256.sig -in checkpoints/00000001.sha256");
  CHECK(signature.out == "Signature Verified Successfully\n");
  CHECK(shell(copy_, "openssl pkey -pubin -in keys/00000001.pem -noout -text")
            .out.starts_with("ED25519 Public-Key"));
}

TEST_CASE_FIXTURE(Outsider, "the recipe finds each kind of tampering") {
  REQUIRE(all_well());
  std::string a_segment;
  for (const auto& name : files_of(copy_)) {
    a_segment = name.starts_with("segments/") ? name : a_segment;
  }
  for (const auto& name : {a_segment, list_name(3), about_name(3), signature_name(3), key_name(1)}) {
    CAPTURE(name);
    const auto good = content(copy_ / name);
    auto bad = good;
    bad[bad.size() / 2] = static_cast<char>(bad[bad.size() / 2] ^ 1);
    overwrite(copy_ / name, bad);
    CHECK(!all_well());
    fs::remove(copy_ / name);
    CHECK(!all_well());
    overwrite(copy_ / name, good);
  }
  CHECK(all_well());
  // A key that no checkpoint handed over to is not used.
  const auto other = SigningKey::generate();
  overwrite(copy_ / key_name(3), other.public_pem());
  overwrite(copy_ / signature_name(3), other.sign(content(copy_ / list_name(3))));
  CHECK(step(4).out.find("wrong: checkpoints/00000003.sha256") != std::string::npos);
}

}  // namespace
}  // namespace dryclock::seal
