// How well what people type fits what something is called: its words in any order, or beginnings of them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace dryclock::cli {

// What one thing is called in one language, in small letters.
struct Naming {
  std::vector<std::string> own;   // "front", "door"
  std::vector<std::string> more;  // what tells it from others of its kind: "left", "upper", "half", "2"
};

// The better, the lower.
enum class Fit : std::uint8_t {
  exact,  // each word as it is, and none of its own left out
  begun,  // none of its own left out
  part,   // some of its own left out
};
// Each typed word is the beginning of another word of the naming. Absent: that is not so.
[[nodiscard]] std::optional<Fit> fit(const std::vector<std::string>& typed, const Naming& naming);

// "Front-Bumper 2" -> front, bumper, 2
[[nodiscard]] std::vector<std::string> name_words(std::string_view text);

// Those that fit best, in their order. `namings` gives all that one of them is called.
template <class Candidate, class Namings>
[[nodiscard]] std::vector<Candidate> best_fits(const std::string& name,
                                               const std::vector<Candidate>& candidates, Namings namings) {
  const auto typed = name_words(name);
  std::vector<Candidate> best;
  auto so_far = Fit::part;
  for (const auto& candidate : candidates) {
    std::optional<Fit> found;
    for (const Naming& naming : namings(candidate)) {
      const auto one = fit(typed, naming);
      found = one && (!found || *one < *found) ? one : found;
    }
    if (!found || *found > so_far) {
      continue;
    }
    if (*found < so_far) {
      best.clear();
    }
    so_far = *found;
    best.push_back(candidate);
  }
  return best;
}

}  // namespace dryclock::cli
