# The strict set: every target of ours compiles under it without a warning.
# Files that are compiled as one (see the presets) see each other's names: what one of them declares for itself alone
# is judged where each is compiled by itself, in `release` and `tidy`.
set(shadow $<IF:$<BOOL:$<TARGET_PROPERTY:UNITY_BUILD>>,-Wshadow=local$<SEMICOLON>-Wno-subobject-linkage,-Wshadow>)
add_compile_options(
  -Wall -Wextra -Wpedantic "${shadow}" -Wconversion -Wsign-conversion -Wold-style-cast
  -Wnon-virtual-dtor -Woverloaded-virtual $<$<CONFIG:Debug>:-Wnull-dereference> $<$<CXX_COMPILER_ID:GNU>:-Wduplicated-cond> -Wformat=2)
option(DRYCLOCK_WERROR "Treat warnings as errors" ON)
if(DRYCLOCK_WERROR)
  add_compile_options(-Werror)
endif()
