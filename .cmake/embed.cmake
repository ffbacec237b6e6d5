# dryclock_embed(TARGET FILES ...)
#   compiles files into a target: FILE.inc, a list of its bytes, is made in the build folder for
#   `const unsigned char bytes[] = {` #include "FILE.inc" `};`
# Run as a script (cmake -DFILE=... -DINTO=... -P) it makes one of them.
if(CMAKE_SCRIPT_MODE_FILE)
  file(READ ${FILE} hex HEX)
  string(REGEX REPLACE "(..)" "0x\\1," bytes "${hex}")
  file(WRITE ${INTO} "${bytes}\n")
  return()
endif()

set(DRYCLOCK_EMBED ${CMAKE_CURRENT_LIST_FILE})
function(dryclock_embed target)
  cmake_parse_arguments(ARG "" "" "FILES" ${ARGN})
  foreach(file ${ARG_FILES})
    cmake_path(ABSOLUTE_PATH file BASE_DIRECTORY ${CMAKE_CURRENT_SOURCE_DIR})
    cmake_path(GET file FILENAME name)
    set(into ${CMAKE_CURRENT_BINARY_DIR}/${name}.inc)
    add_custom_command(OUTPUT ${into} DEPENDS ${file} ${DRYCLOCK_EMBED} VERBATIM
      COMMAND ${CMAKE_COMMAND} -DFILE=${file} -DINTO=${into} -P ${DRYCLOCK_EMBED})
    target_sources(${target} PRIVATE ${into})
  endforeach()
  target_include_directories(${target} PRIVATE ${CMAKE_CURRENT_BINARY_DIR})
endfunction()
