#include "cli/validity_words.hpp"

#include <array>
#include <utility>

#include "domain/names.hpp"

namespace dryclock::cli {

std::vector<std::string> validity_keys(std::uint8_t validity) {
  std::vector<std::string> list;
  for (const auto& [flag, word] : validity_names) {
    if ((validity & flag) != 0) {
      list.emplace_back(word);
    }
  }
  return list;
}

std::vector<std::string> validity_words(std::uint8_t validity, const wording::Words& words) {
  auto list = validity_keys(validity);
  for (auto& word : list) {
    word = words.say("client.validity-" + word);
  }
  return list;
}

}  // namespace dryclock::cli
