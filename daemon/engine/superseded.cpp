#include "engine/superseded.hpp"

namespace dryclock::engine {

std::set<Seq> superseded_by(const std::vector<Correction>& corrections) {
  std::set<Seq> out;
  for (auto one = corrections.rbegin(); one != corrections.rend(); ++one) {  // from the newest back
    if (!out.contains(one->first)) {
      out.insert(one->second);
    }
  }
  return out;
}

}  // namespace dryclock::engine
