// How much alcohol was sprayed in a bay within the hour, and what its vapour may exceed at most.
#pragma once

#include <optional>
#include <string>

#include "domain/setup.hpp"
#include "engine/shop.hpp"

namespace dryclock::engine {

struct SolventWarning {
  Fact what;    // may be exceeded, by which figures
  Fact advice;  // what to do, and what was assumed
};

// An upper bound for well-mixed air (models/solvent.hpp): all that was sprayed with the pieces laid in the
// bay in (now - 1 h, now], wherever the vehicle stands since; all of its alcohol in the air at once, and none
// changed. Nothing where the bay's volume is not known, or no limit may be exceeded: which does not mean that
// the air is safe. `air_c`: of the bay [C].
[[nodiscard]] std::optional<SolventWarning> solvent_warning(const BaySetup& bay, const Shop& shop,
                                                            const AlertSettings& settings, double air_c,
                                                            Time now);

}  // namespace dryclock::engine
