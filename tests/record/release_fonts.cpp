// The font libraries keep what they have read until they are told that it is over.
#include <cairo.h>
#include <fontconfig/fontconfig.h>

namespace {

struct ReleaseFonts {
  ReleaseFonts() = default;
  ReleaseFonts(const ReleaseFonts&) = delete;
  ReleaseFonts& operator=(const ReleaseFonts&) = delete;
  ~ReleaseFonts() {
    cairo_debug_reset_static_data();
    FcFini();
  }
};
const ReleaseFonts at_the_end;

}  // namespace
