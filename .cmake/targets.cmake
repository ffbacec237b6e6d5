# dryclock_library(NAME SOURCES ... [USES ...] [PRIVATE_USES ...])
#   one static library for a folder; headers are included from the repository's top
#   ("models/zone.hpp") or from daemon/ ("engine/engine.hpp").
function(dryclock_library name)
  cmake_parse_arguments(ARG "" "" "SOURCES;USES;PRIVATE_USES" ${ARGN})
  add_library(${name} STATIC ${ARG_SOURCES})
  target_include_directories(${name} PUBLIC ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/daemon)
  target_link_libraries(${name} PUBLIC ${ARG_USES} PRIVATE ${ARG_PRIVATE_USES})
endfunction()

# dryclock_reckons(NAME)
#   much is reckoned there: optimized under the sanitizers too, where the rest is built in half the time without.
function(dryclock_reckons name)
  target_compile_options(${name} PRIVATE $<$<CONFIG:Debug>:-O2>)
endfunction()

# dryclock_test(NAME LABEL label SECONDS budget SOURCES ... [USES ...])
#   one doctest executable for a folder of tests; SECONDS is its time budget.
function(dryclock_test name)
  cmake_parse_arguments(ARG "" "LABEL;SECONDS" "SOURCES;USES" ${ARGN})
  add_executable(${name} ${ARG_SOURCES})
  target_include_directories(${name} PRIVATE ${CMAKE_SOURCE_DIR} ${CMAKE_SOURCE_DIR}/daemon ${CMAKE_SOURCE_DIR}/tests)
  target_compile_definitions(${name} PRIVATE DRYCLOCK_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  target_link_libraries(${name} PRIVATE dryclock_doctest_main ${ARG_USES})
  add_test(NAME ${name} COMMAND ${name})
  set(seconds ${ARG_SECONDS})
  if(DRYCLOCK_SANITIZE)
    math(EXPR seconds "10 * ${seconds}")
  endif()
  set_tests_properties(${name} PROPERTIES LABELS ${ARG_LABEL} TIMEOUT ${seconds}
    ENVIRONMENT "TSAN_OPTIONS=suppressions=${CMAKE_SOURCE_DIR}/.cmake/tsan.supp")
endfunction()
