#include "engine/superseded.hpp"

#include <algorithm>

namespace dryclock::engine {

std::set<Seq> superseded_by(const std::vector<Correction>& corrections) {
  std::set<Seq> out;
  std::for_each(corrections.rbegin(), corrections.rend(), [&](const Correction& one) {  // the newest first
    if (!out.contains(one.first)) {
      out.insert(one.second);
    }
  });
  return out;
}

}  // namespace dryclock::engine
