# The strict set: every target of ours compiles under it without a warning.
add_compile_options(
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wold-style-cast
  -Wnon-virtual-dtor -Woverloaded-virtual $<$<CONFIG:Debug>:-Wnull-dereference> $<$<CXX_COMPILER_ID:GNU>:-Wduplicated-cond> -Wformat=2)
option(DRYCLOCK_WERROR "Treat warnings as errors" ON)
if(DRYCLOCK_WERROR)
  add_compile_options(-Werror)
endif()
