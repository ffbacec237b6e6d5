#include "cli/validity_words.hpp"

#include <array>
#include <utility>

#include "models/catalogue.hpp"

namespace dryclock::cli {

std::vector<std::string> validity_words(std::uint8_t validity) {
  static constexpr std::array flags{
      std::pair{models::air_out_of_range, "air-out-of-range"},
      std::pair{models::film_out_of_range, "film-out-of-range"},
      std::pair{models::panel_too_hot, "panel-too-hot"},
      std::pair{models::condensing, "condensing"},
      std::pair{models::bridged_gap, "bridged-gap"},
  };
  std::vector<std::string> list;
  for (const auto& [flag, word] : flags) {
    if ((validity & flag) != 0) {
      list.emplace_back(word);
    }
  }
  return list;
}

}  // namespace dryclock::cli
