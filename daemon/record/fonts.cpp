#include "record/fonts.hpp"

#include <cairo.h>
#include <fontconfig/fontconfig.h>

namespace dryclock::record {

void release_fonts() {
  cairo_debug_reset_static_data();
  FcFini();
}

}  // namespace dryclock::record
