// The last thing that the tests do.
#include "record/canvas.hpp"

namespace {

struct ReleaseFonts {
  ReleaseFonts() = default;
  ReleaseFonts(const ReleaseFonts&) = delete;
  ReleaseFonts& operator=(const ReleaseFonts&) = delete;
  ~ReleaseFonts() { dryclock::record::release_fonts(); }
};
const ReleaseFonts at_the_end;

}  // namespace
