# DRYCLOCK_SANITIZE: "address,undefined" or "thread"; empty for none.
set(DRYCLOCK_SANITIZE "" CACHE STRING "Sanitizers for the whole build")
if(DRYCLOCK_SANITIZE)
  add_compile_options(-fsanitize=${DRYCLOCK_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer)
  add_link_options(-fsanitize=${DRYCLOCK_SANITIZE})
  # GCC's flow warnings report false paths inside instrumented library code.
  add_compile_options(-Wno-maybe-uninitialized -Wno-null-dereference)
  if(DRYCLOCK_SANITIZE MATCHES thread AND CMAKE_CXX_COMPILER_ID STREQUAL GNU)
    # Asio has a fence, which this sanitizer does not follow: at worst a false report, and none is made.
    add_compile_options(-Wno-tsan)
  endif()
endif()
