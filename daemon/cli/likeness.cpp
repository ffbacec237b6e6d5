#include "cli/likeness.hpp"

#include <algorithm>

#include "base/small_letters.hpp"

namespace dryclock::cli {
namespace {

// Tries every way to give each typed word one of the naming's, and keeps the best.
class Matcher {
 public:
  Matcher(const std::vector<std::string>& typed, const Naming& naming) : typed_(typed), naming_(naming) {
    all_ = naming.own;
    all_.insert(all_.end(), naming.more.begin(), naming.more.end());
    used_.assign(all_.size(), false);
  }

  [[nodiscard]] std::optional<Fit> best() && {
    if (!typed_.empty() && typed_.size() <= all_.size()) {
      next(0, true);
    }
    return best_;
  }

 private:
  void next(std::size_t i, bool exact) {
    if (i == typed_.size()) {
      const auto own = used_.begin() + static_cast<std::ptrdiff_t>(naming_.own.size());
      const bool whole = std::find(used_.begin(), own, false) == own;
      const auto fit = !whole ? Fit::part : exact ? Fit::exact : Fit::begun;
      best_ = best_ ? std::min(*best_, fit) : fit;
      return;
    }
    for (std::size_t k = 0; k < all_.size(); ++k) {
      if (!used_[k] && all_[k].starts_with(typed_[i])) {
        used_[k] = true;
        next(i + 1, exact && all_[k] == typed_[i]);
        used_[k] = false;
      }
    }
  }

  const std::vector<std::string>& typed_;
  const Naming& naming_;
  std::vector<std::string> all_;
  std::vector<bool> used_;
  std::optional<Fit> best_;
};

}  // namespace

std::optional<Fit> fit(const std::vector<std::string>& typed, const Naming& naming) {
  return Matcher{typed, naming}.best();
}

std::vector<std::string> name_words(std::string_view text) {
  auto spaced = small_letters(text);
  std::ranges::replace(spaced, '-', ' ');
  return words_of(spaced);
}

}  // namespace dryclock::cli
